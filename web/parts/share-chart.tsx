/** A chart of shares against shares, both from 0 to 100 %: its frame, its axes, and a place for what is drawn in it. */
import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'

const LEFT = 46
const TOP = 10
const SIDE = 240
const BOTTOM = 44
const WIDTH = LEFT + SIDE + 14
const HEIGHT = TOP + SIDE + BOTTOM
const TICKS = [0, 0.25, 0.5, 0.75, 1]

/** Where a share stands in the chart. */
export const chartX = (share: number) => LEFT + share * SIDE
export const chartY = (share: number) => TOP + (1 - share) * SIDE

interface ShareChartProps {
  readonly title: string
  readonly across: string
  readonly up: string
  readonly children: ComponentChildren
}

export function ShareChart({ title, across, up, children }: ShareChartProps) {
  const id = useId()
  return (
    <svg class="share-chart" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} role="img" aria-labelledby={id}>
      <title id={id}>{title}</title>
      {TICKS.map((tick) => (
        <g key={tick}>
          <line class="chart-grid" x1={chartX(tick)} y1={chartY(0)} x2={chartX(tick)} y2={chartY(1)} />
          <line class="chart-grid" x1={chartX(0)} y1={chartY(tick)} x2={chartX(1)} y2={chartY(tick)} />
          <text class="chart-words" x={chartX(tick)} y={chartY(0) + 16} text-anchor="middle">
            {tick * 100}
          </text>
          <text class="chart-words" x={chartX(0) - 6} y={chartY(tick) + 4} text-anchor="end">
            {tick * 100}
          </text>
        </g>
      ))}
      <text class="chart-words" x={chartX(0.5)} y={HEIGHT - 6} text-anchor="middle">
        {across} (%)
      </text>
      <text class="chart-words" x={-chartY(0.5)} y="12" text-anchor="middle" transform="rotate(-90)">
        {up} (%)
      </text>
      {children}
    </svg>
  )
}
