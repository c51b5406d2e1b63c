/** A share and its range as a bar from 0 to 100 %. The same stands in words beside it. */
interface ShareBarProps {
  readonly share: number
  readonly low: number
  readonly high: number
}

const WIDTH = 120
const HEIGHT = 14
const MIDDLE = HEIGHT / 2
/** A range of nothing would be no line at all. */
const LEAST_WIDTH = 2

export function ShareBar({ share, low, high }: ShareBarProps) {
  return (
    <svg class="share-bar" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true" focusable="false">
      <rect class="chart-ground" x="0" y={MIDDLE - 1} width={WIDTH} height="2" />
      <rect
        class="chart-range"
        x={low * WIDTH}
        y={MIDDLE - 3}
        width={Math.max(LEAST_WIDTH, (high - low) * WIDTH)}
        height="6"
      />
      <rect class="chart-mark" x={share * (WIDTH - 3)} y="1" width="3" height={HEIGHT - 2} />
    </svg>
  )
}
