/** How long things last when some were only watched for a part of it. */

/** `ended` false: it lasted at least so long, and was then no longer watched. */
export interface Lasted {
  /** Over 0. */
  readonly hours: number
  readonly ended: boolean
}

/** The part that lasts longer than `hours`, from there up to the next step. */
export interface SurvivalStep {
  readonly hours: number
  readonly part: number
}

/**
 * The part that lasts longer than each length, as it falls at each length at which one ended: the product limit of Kaplan &
 * Meier 1958, Journal of the American Statistical Association 53:457-481, doi:10.1080/01621459.1958.10501452. One whose
 * watching ended counts among those at risk up to then, and at its own length with those that ended there.
 */
export function survivalOf(spells: readonly Lasted[]): SurvivalStep[] {
  const inOrder = [...spells].sort((a, b) => a.hours - b.hours)
  const steps: SurvivalStep[] = []
  let part = 1
  for (let at = 0; at < inOrder.length; ) {
    const { hours } = inOrder[at]!
    let to = at
    let ended = 0
    for (; to < inOrder.length && inOrder[to]!.hours === hours; to++) ended += Number(inOrder[to]!.ended)
    part *= 1 - ended / (inOrder.length - at)
    if (ended > 0) steps.push({ hours, part })
    at = to
  }
  return steps
}
