/** Gathers calls that come in one turn, or while an earlier one is being served, and serves them together. */

/** Somebody who asked, and waits to be answered. */
export interface Call<Ask, Answer> {
  readonly ask: Ask
  readonly resolve: (answer: Answer) => void
  readonly reject: (fault: unknown) => void
}

/**
 * Serves calls together. After a fault each is served again alone, so that one bad call does not fail the others; not
 * after a fault that is of all of them.
 */
export async function serveTogether<Ask, Answer>(
  calls: ReadonlyArray<Call<Ask, Answer>>,
  serve: (asks: readonly Ask[]) => Promise<readonly Answer[]>,
  isOfAll: (fault: unknown) => boolean = () => false,
): Promise<void> {
  try {
    const answers = await serve(calls.map(({ ask }) => ask))
    for (const [i, { resolve }] of calls.entries()) resolve(answers[i]!)
  } catch (fault) {
    if (calls.length === 1 || isOfAll(fault)) for (const { reject } of calls) reject(fault)
    else for (const call of calls) await serveTogether([call], serve, isOfAll)
  }
}

/** What waits is bounded by whoever calls; one round never takes more than this. */
const MOST_AT_ONCE = 64

/**
 * One round at a time: a call that finds none on its way is served at once, so a quiet service waits for nothing and a
 * busy one asks its database once for many. Every call is served by a round that begins after it.
 */
export function inBatches<Ask, Answer>(
  serve: (asks: readonly Ask[]) => Promise<readonly Answer[]>,
): (ask: Ask) => Promise<Answer> {
  const waiting: Array<Call<Ask, Answer>> = []
  let busy = false

  async function serveAll(): Promise<void> {
    busy = true
    // Others of this turn may come: they go with the first.
    await null
    while (waiting.length > 0) await serveTogether(waiting.splice(0, MOST_AT_ONCE), serve)
    busy = false
  }

  return (ask) =>
    new Promise((resolve, reject) => {
      waiting.push({ ask, resolve, reject })
      if (!busy) void serveAll()
    })
}
