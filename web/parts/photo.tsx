/** A photo with its boxes: fixed shape so that nothing jumps while it loads, boxes over it, species in words. */
import type { BoxOnStill, Still } from '../../services/http/shapes.ts'
import type { DrawnBox } from '../../services/words.ts'
import { keepingWords } from '../text/keeping.ts'
import { altWords, photoWords } from '../text/photo.ts'
import { type BoxLabel, type Frame, placeLabels } from './box-labels.ts'
import { useBoxesShown } from './box-switch.tsx'
import { Icon } from './icon.tsx'

interface PhotoProps {
  readonly still: Still
  readonly size: 'small' | 'full'
  /** Labels are left off where the photo is too small to read them. */
  readonly labels?: boolean
  readonly eager?: boolean
  /** Boxes that a person drew. */
  readonly drawn?: readonly DrawnBox[]
}

/** About how wide a photo of each size is on the smallest screen it is shown on, for placing labels. */
const SHOWN_PX = { small: 360, full: 366 } as const
/** From here on a large photo has the room of a desk. */
const DESK_PX = 900

/** The shape photos take before their size is known. */
const USUAL_SHAPE = { width: 16, height: 9 }

export function Photo({ still, size, labels = true, eager = false, drawn = [] }: PhotoProps) {
  const shown = useBoxesShown()
  const width = still.width ?? USUAL_SHAPE.width
  const height = still.height ?? USUAL_SHAPE.height
  const shape = { aspectRatio: `${width} / ${height}` }
  if (still.state === 'unreadable') {
    return (
      <div class="photo photo-unreadable" style={shape}>
        <Icon name="broken" />
        <span>{photoWords.unreadable}</span>
      </div>
    )
  }
  if (still.kept === 'none') {
    return (
      <div class="photo photo-none" style={shape}>
        <Icon name="none" />
        <span>{keepingWords.noLonger}</span>
      </div>
    )
  }
  return (
    <div
      class="photo"
      // On a slow link the small photo stands there, blurred, until the full one is in.
      style={size === 'full' ? { ...shape, backgroundImage: `url("${still.smallUrl}")` } : shape}
    >
      <img
        src={size === 'small' ? still.smallUrl : still.fullUrl}
        alt={altWords(still)}
        loading={eager ? 'eager' : 'lazy'}
        decoding="async"
        width={width}
        height={height}
      />
      {shown && still.boxes.length + drawn.length > 0 && (
        <Boxes
          boxes={still.boxes}
          drawn={drawn}
          frame={{ width, height }}
          labels={labels ? placeLabels(still.boxes, { width, height }, shownPx(size)) : []}
        />
      )}
    </div>
  )
}

function shownPx(size: PhotoProps['size']): number {
  return size === 'full' && innerWidth >= DESK_PX ? DESK_PX : SHOWN_PX[size]
}

interface BoxesProps {
  readonly boxes: readonly BoxOnStill[]
  readonly drawn: readonly DrawnBox[]
  readonly frame: Frame
  readonly labels: readonly BoxLabel[]
}

/** Each box twice: a dark line under a bright one, so that it stands out on white sand and in the dark. */
function Boxes({ boxes, drawn, frame, labels }: BoxesProps) {
  const all = [
    ...boxes.map((one) => ({ ...one, kind: one.counted ? 'counted' : 'unsure' })),
    ...drawn.map((one) => ({ ...one, kind: 'drawn' })),
  ]
  return (
    <div class="boxes" aria-hidden="true">
      {/* biome-ignore lint/a11y/noSvgWithoutTitle: the boxes are told in words beside the photo */}
      <svg viewBox={`0 0 ${frame.width} ${frame.height}`} preserveAspectRatio="none" focusable="false">
        {all.map(({ box: [x0, y0, x1, y1], species, kind }) => {
          const place = { x: x0, y: y0, width: Math.max(1, x1 - x0), height: Math.max(1, y1 - y0) }
          return (
            <g class={`box box-${species} box-${kind}`} key={`${kind} ${x0},${y0},${x1},${y1}`}>
              <rect class="box-under" {...place} />
              <rect class="box-line" {...place} />
            </g>
          )
        })}
      </svg>
      {labels.map(({ words, species, leftPercent, topPercent }) => (
        <span
          class={`box-label box-label-${species}`}
          key={`${leftPercent},${topPercent}`}
          style={{ left: `${leftPercent}%`, top: `${topPercent}%` }}
        >
          {words}
        </span>
      ))}
    </div>
  )
}
