/** Times into what is printed of them. */

const FIRST_COLUMN = 30
const COLUMN = 11
const ms = (value: number) => `${value.toFixed(1)} ms`

export interface Figures {
  readonly asked: number
  readonly medianMs: number
  readonly p95Ms: number
  readonly maxMs: number
  /** Processor time of the service's and PostgreSQL's processes an ask: what a busy machine doesn't change. Null where not told. */
  readonly cpuMs: number | null
}

/** @throws RangeError when there are no times. */
export function figuresOf(timesMs: readonly number[], cpuMs: number | null): Figures {
  if (timesMs.length === 0) throw new RangeError('no times were taken')
  const sorted = timesMs.toSorted((a, b) => a - b)
  // Nearest rank: the smallest time that so many of all do not exceed.
  const at = (share: number) => sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] as number
  return {
    asked: sorted.length,
    medianMs: at(0.5),
    p95Ms: at(0.95),
    maxMs: at(1),
    cpuMs: cpuMs === null ? null : cpuMs / sorted.length,
  }
}

export interface Measured {
  readonly question: string
  readonly state: 'cold' | 'warm'
  readonly figures: Figures
}

export const measuredHead = columns(['', 'asked', 'median', 'p95', 'max', 'cpu'])

export function measuredLine({ question, state, figures }: Measured): string {
  const { asked, medianMs, p95Ms, maxMs, cpuMs } = figures
  const times = [medianMs, p95Ms, maxMs].map(ms)
  return columns([`${question}, ${state}`, String(asked), ...times, cpuMs === null ? '' : ms(cpuMs)])
}

/** The medians of the last ledger over those of the one before it. */
export function ratioLines(
  smaller: { readonly stills: number; readonly measured: readonly Measured[] },
  larger: { readonly stills: number; readonly measured: readonly Measured[] },
): string[] {
  const head = `growth of the median from ${inWords(smaller.stills)} to ${inWords(larger.stills)} photos`
  const lines = larger.measured.map(({ question, state, figures }) => {
    const before = smaller.measured.find((one) => one.question === question && one.state === state)
    const ratio = before === undefined ? Number.NaN : figures.medianMs / before.figures.medianMs
    return columns([`${question}, ${state}`, `${ratio.toFixed(2)} x`])
  })
  return [head, ...lines]
}

export function inWords(stills: number): string {
  const millions = stills / 1_000_000
  return millions >= 1 ? `${millions} million` : stills.toLocaleString('en')
}

function columns(cells: readonly string[]): string {
  return `  ${cells.map((cell, index) => (index === 0 ? cell.padEnd(FIRST_COLUMN) : cell.padStart(COLUMN))).join('')}`
}
