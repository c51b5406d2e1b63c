/** The points by their coordinates alone, each ringed as wide as its rate. Nothing is fetched from anywhere. */
import type { PressureAnswer } from '../../../services/http/pressure-shapes.ts'
import type { Species } from '../../../services/words.ts'
import { placed } from '../../parts/placed.ts'
import { rangeWords, pressureWords as words } from '../../text/pressure.ts'

const MOST_RADIUS = 26
const DOT = 3
/** More names than these would lie on each other. */
const MOST_NAMES = 30

interface MapProps {
  readonly answer: PressureAnswer
  readonly species: Species
}

export function PointMap({ answer, species }: MapProps) {
  const rates = new Map(
    answer.rows.filter((row) => row.species === species).map((row) => [row.pointId, row.visitRate]),
  )
  const most = Math.max(1, ...[...rates.values()].map((rate) => rate?.rate ?? 0))
  const { points, width, height } = placed(answer.points)
  return (
    <section aria-labelledby="map-head">
      <h2 id="map-head">{words.map(species)}</h2>
      <p class="small">{words.mapHint}</p>
      <svg
        class="point-map"
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={words.mapLabel(species)}
      >
        {points.map(({ point, x, y, leftwards }) => {
          const rate = rates.get(point.pointId)?.rate ?? 0
          const blind = point.watchedNights === 0
          return (
            <g key={point.pointId}>
              <title>{`${point.name}: ${blind ? 'not watched' : rangeWords(rates.get(point.pointId) ?? { low: 0, rate: 0, high: 0 })}`}</title>
              {rate > 0 && (
                <circle
                  class={`map-ring map-${species}`}
                  cx={x}
                  cy={y}
                  r={Math.max(DOT + 2, MOST_RADIUS * Math.sqrt(rate / most))}
                />
              )}
              <circle class={blind ? 'map-blind' : 'map-dot'} cx={x} cy={y} r={blind ? DOT + 4 : DOT} />
              {points.length <= MOST_NAMES && (
                <text
                  class="map-name"
                  x={leftwards ? x - 7 : x + 7}
                  y={y - 5}
                  text-anchor={leftwards ? 'end' : 'start'}
                >
                  {point.name}
                </text>
              )}
            </g>
          )
        })}
      </svg>
    </section>
  )
}
