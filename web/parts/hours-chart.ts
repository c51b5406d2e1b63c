/** What comes at which hour of the day, as curves over bands of hours. */
import type * as Plot from '@observablehq/plot'

const HOURS_A_DAY = 24
const TICKS = [0, 3, 6, 9, 12, 15, 18, 21, 24]

/** Station hours, 0 to 24. */
export interface HoursBand {
  readonly from: number
  readonly to: number
}

export interface HoursCurve {
  readonly species: string
  /** Shares of the visits an hour, in even steps from midnight; null: too few to draw. */
  readonly shares: readonly number[] | null
}

interface Drawn {
  readonly species: string
  readonly hour: number
  readonly percent: number
}

export function hoursChart(
  plot: typeof Plot,
  {
    curves,
    bands,
    bandOpacity,
  }: {
    readonly curves: readonly HoursCurve[]
    readonly bands: readonly HoursBand[]
    readonly bandOpacity: number
  },
): Plot.PlotOptions {
  const drawn = curves.map((curve) => ({ species: curve.species, points: pointsOf(curve) }))
  return {
    marginBottom: 38,
    x: { domain: [0, HOURS_A_DAY], ticks: TICKS, label: 'hour of the day', labelAnchor: 'center' },
    y: { label: 'per cent of visits an hour', grid: true, zero: true },
    marks: [
      plot.rectX(bands, { x1: 'from', x2: 'to', fill: 'currentColor', fillOpacity: bandOpacity }),
      plot.ruleY([0]),
      ...drawn.map(({ species, points }, i) =>
        plot.line(points, {
          x: 'hour',
          y: 'percent',
          stroke: `var(--${species})`,
          strokeWidth: 2.5,
          // Told apart without colour too.
          strokeDasharray: i === 0 ? '1 0' : '7 4',
        }),
      ),
      plot.text(
        drawn.flatMap(({ points }) => topOf(points)),
        { x: 'hour', y: 'percent', text: 'species', dy: -8, fill: 'currentColor', fontWeight: 600 },
      ),
    ],
  }
}

function pointsOf({ species, shares }: HoursCurve): readonly Drawn[] {
  if (shares === null) return []
  // Midnight again at the end, so that the line closes.
  return [...shares, shares[0]!].map((share, step) => ({
    species,
    hour: (step * HOURS_A_DAY) / shares.length,
    percent: share * 100,
  }))
}

const topOf = (points: readonly Drawn[]) => [...points].sort((a, b) => b.percent - a.percent).slice(0, 1)
