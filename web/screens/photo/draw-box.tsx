/** Drawing a box with a finger or a mouse: possible, never needed; counts are said without. */
import type { ComponentChildren } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import { type Box, type DrawnBox, SPECIES, type Species } from '../../../services/words.ts'
import { speciesMany } from '../../text/counts.ts'
import { photoWords } from '../../text/photo.ts'
import type { StillNow } from '../check/standing.ts'

interface DrawBoxProps {
  readonly still: StillNow
  /** What is being drawn; null: nothing. */
  readonly species: Species | null
  readonly drawn: (box: DrawnBox) => void
  readonly done: () => void
  /** The photo. */
  readonly children: ComponentChildren
}

/** A smaller one is a slip of the finger. */
const LEAST_SHARE = 0.008

/** Share of the photo's width and height, 0 to 1. */
interface Spot {
  readonly x: number
  readonly y: number
}

export function DrawBox({ still, species, drawn, done, children }: DrawBoxProps) {
  const [corners, setCorners] = useState<{ from: Spot; to: Spot } | null>(null)
  const ground = useRef<HTMLDivElement>(null)
  useEffect(() => {
    if (species === null) return
    const press = (event: KeyboardEvent) => {
      if (event.key === 'Escape') done()
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  })
  const spotOf = (event: PointerEvent): Spot => {
    const { left, top, width, height } = ground.current!.getBoundingClientRect()
    return { x: share((event.clientX - left) / width), y: share((event.clientY - top) / height) }
  }
  const begin = (event: PointerEvent) => {
    ground.current?.setPointerCapture(event.pointerId)
    const spot = spotOf(event)
    setCorners({ from: spot, to: spot })
  }
  const move = (event: PointerEvent) => {
    if (corners !== null) setCorners({ ...corners, to: spotOf(event) })
  }
  const end = () => {
    const box = corners === null ? null : boxOf(corners, still)
    setCorners(null)
    if (box !== null && species !== null) drawn({ species, box })
  }
  return (
    <div class="draw-box">
      {children}
      {species !== null && (
        <div
          class="draw-ground"
          ref={ground}
          onPointerDown={begin}
          onPointerMove={move}
          onPointerUp={end}
          onPointerCancel={() => setCorners(null)}
        >
          {corners === null && <p class="draw-hint">{photoWords.drawHint}</p>}
          {corners !== null && <div class={`drawing drawing-${species}`} style={styleOf(corners)} />}
        </div>
      )}
    </div>
  )
}

interface DrawingSpeciesProps {
  readonly species: Species
  readonly choose: (species: Species) => void
}

export function DrawingSpecies({ species, choose }: DrawingSpeciesProps) {
  return (
    <fieldset class="choice">
      <legend>{photoWords.drawAs}</legend>
      {SPECIES.map((one) => (
        <button
          type="button"
          class="button"
          aria-pressed={one === species}
          onClick={() => choose(one)}
          key={one}
        >
          {speciesMany(one)}
        </button>
      ))}
    </fieldset>
  )
}

const share = (value: number) => Math.min(1, Math.max(0, value))

/** In whole pixels of the photo; null where it is too small to be meant. */
function boxOf({ from, to }: { from: Spot; to: Spot }, { width, height }: StillNow): Box | null {
  if (width === null || height === null) return null
  if (Math.abs(from.x - to.x) < LEAST_SHARE || Math.abs(from.y - to.y) < LEAST_SHARE) return null
  const across = (x: number) => Math.round(x * width)
  const down = (y: number) => Math.round(y * height)
  return [
    across(Math.min(from.x, to.x)),
    down(Math.min(from.y, to.y)),
    across(Math.max(from.x, to.x)),
    down(Math.max(from.y, to.y)),
  ]
}

function styleOf({ from, to }: { from: Spot; to: Spot }) {
  const percent = (value: number) => `${value * 100}%`
  return {
    left: percent(Math.min(from.x, to.x)),
    top: percent(Math.min(from.y, to.y)),
    width: percent(Math.abs(from.x - to.x)),
    height: percent(Math.abs(from.y - to.y)),
  }
}
