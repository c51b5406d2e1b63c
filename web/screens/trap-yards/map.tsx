/** The station's waters by their coordinates alone, with clusters, yards and gates. Nothing is fetched from anywhere. */
import { useId } from 'preact/hooks'
import type { TrapYardsAnswer, YardPoint } from '../../../services/http/trap-yard-shapes.ts'
import { labelPlaces } from '../../parts/label-places.ts'
import { placed } from '../../parts/placed.ts'
import { yardWords as words } from '../../text/trap-yards.ts'
import { mapLabel, pointTold, scaleWords } from '../../text/yard-map.ts'

const FONT_SIZE = 12
const POINT_RADIUS = 8
const SCALES_KM = [1, 2, 5, 10, 20, 50, 100]
const LEAST_SCALE_UNITS = 40
/** With more points only those are named that the plan or the species is about: names would lie on each other. */
const MOST_NAMES = 30

interface MapProps {
  readonly answer: TrapYardsAnswer
  /** Where gates are set. */
  readonly set: readonly number[]
}

export function YardMap({ answer, set }: MapProps) {
  const told = useId()
  const { homestead, points, clusters } = answer
  const home = { ...homestead, name: words.legend.homestead, point: null }
  const sheet = placed([home, ...points.map((point) => ({ ...point, point }))])
  const isNamed = (point: YardPoint | null) =>
    points.length <= MOST_NAMES || point === null || point.use === 'seen' || set.includes(point.pointId)
  const named = sheet.points.map(({ point: { name, point }, x, y }) => ({
    x,
    y,
    words: isNamed(point) ? name : '',
  }))
  const names = labelPlaces(named, {
    width: sheet.width,
    height: sheet.height,
    fontSize: FONT_SIZE,
    pointRadius: POINT_RADIUS,
  })
  const at = (id: number) => sheet.points.find(({ point }) => point.point?.pointId === id)!
  return (
    <figure class="yard-map">
      <svg
        viewBox={`0 0 ${sheet.width} ${sheet.height}`}
        role="img"
        aria-label={mapLabel(answer, set)}
        aria-describedby={told}
      >
        {clusters.flatMap(({ pairs }) =>
          pairs.map(({ pointIds: [a, b], followed }) => (
            <line
              class={followed?.says === 'seen to move' ? 'yard-moved' : 'yard-pair'}
              x1={at(a).x}
              y1={at(a).y}
              x2={at(b).x}
              y2={at(b).y}
              key={`${a} ${b}`}
            />
          )),
        )}
        {sheet.points.map(({ point: { point }, x, y }) =>
          point === null ? (
            <Homestead x={x} y={y} key="home" />
          ) : (
            <g key={point.pointId} transform={`translate(${x} ${y})`}>
              <YardSign point={point} isSet={set.includes(point.pointId)} />
            </g>
          ),
        )}
        {sheet.points.map(({ point: { point } }, i) => (
          <text
            class={point === null ? 'yard-name yard-home-name' : 'yard-name'}
            x={names[i]!.x}
            y={names[i]!.y}
            text-anchor={names[i]!.anchor}
            font-size={FONT_SIZE}
            key={point?.pointId ?? 'home'}
          >
            {named[i]!.words}
          </text>
        ))}
        <Scale unitsAKm={sheet.unitsAKm} height={sheet.height} />
      </svg>
      <ul class="unseen" id={told}>
        {points.map((point) => (
          <li key={point.pointId}>{pointTold(point, set.includes(point.pointId))}</li>
        ))}
      </ul>
      <Legend />
    </figure>
  )
}

/** Shape, fill and line say it; colour only repeats it. */
function YardSign({
  point,
  isSet,
}: {
  readonly point: Pick<YardPoint, 'hasYard' | 'use'>
  readonly isSet: boolean
}) {
  if (isSet)
    return (
      <>
        <rect class="yard-set" x="-7.5" y="-7.5" width="15" height="15" />
        {point.hasYard && <path class="yard-set-mark" d="M-4 -4H4V4H-4Z" />}
      </>
    )
  const use = point.use === 'seen' ? 'yard-seen' : point.use === 'not seen' ? 'yard-not-seen' : 'yard-blind'
  return (
    <>
      {point.hasYard && <rect class="yard-stands" x="-7.5" y="-7.5" width="15" height="15" />}
      <circle class={use} r={point.use === 'not seen' ? 3 : 4.5} />
    </>
  )
}

function Homestead({ x, y }: { readonly x: number; readonly y: number }) {
  return <path class="yard-home" d="M-7 1L0 -7L7 1H5V6H-5V1Z" transform={`translate(${x} ${y})`} />
}

function Scale({ unitsAKm, height }: { readonly unitsAKm: number; readonly height: number }) {
  const km = SCALES_KM.find((long) => long * unitsAKm >= LEAST_SCALE_UNITS) ?? SCALES_KM.at(-1)!
  const y = height - 8
  return (
    <g class="yard-scale">
      <path d={`M8 ${y - 4}V${y}H${8 + km * unitsAKm}V${y - 4}`} />
      <text x="12" y={y - 5} font-size={FONT_SIZE - 1}>
        {scaleWords(km)}
      </text>
    </g>
  )
}

const SIGNS = [
  { key: 'portable', point: { hasYard: false, use: 'seen' }, isSet: true },
  { key: 'standing', point: { hasYard: true, use: 'seen' }, isSet: true },
  { key: 'yard', point: { hasYard: true, use: 'not seen' }, isSet: false },
  { key: 'seen', point: { hasYard: false, use: 'seen' }, isSet: false },
  { key: 'notSeen', point: { hasYard: false, use: 'not seen' }, isSet: false },
  { key: 'notWatched', point: { hasYard: false, use: 'not watched enough' }, isSet: false },
] as const

function Legend() {
  return (
    <figcaption>
      <ul class="yard-legend">
        {SIGNS.map(({ key, point, isSet }) => (
          <li key={key}>
            <svg viewBox="-9 -9 18 18" aria-hidden="true">
              <YardSign point={point} isSet={isSet} />
            </svg>
            {words.legend[key]}
          </li>
        ))}
        {(['pair', 'moved'] as const).map((key) => (
          <li key={key}>
            <svg viewBox="-9 -9 18 18" aria-hidden="true">
              <line class={`yard-${key}`} x1="-9" x2="9" />
            </svg>
            {words.legend[key]}
          </li>
        ))}
      </ul>
    </figcaption>
  )
}
