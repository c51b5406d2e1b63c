/** Where the species' names stand on a photo: beside their boxes, inside the photo, and not over one another. */
import type { BoxOnStill } from '../../services/http/shapes.ts'
import type { Species } from '../../services/words.ts'

export interface BoxLabel {
  readonly words: string
  readonly species: Species
  /** Left and top edge in per cent of the photo's width and height. */
  readonly leftPercent: number
  readonly topPercent: number
}

export interface Frame {
  readonly width: number
  readonly height: number
}

/** About what a label of 12 px bold takes on screen; a little too much is better than too little. */
const LETTER_PX = 7.2
const PADDING_PX = 12
const LABEL_HEIGHT_PX = 18

interface Area {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** `camel` for a counted box, `camel?` for one that is only worth a look, `sheep` for a kind of the station's own. */
export function labelWords({ species, counted, ownKind }: BoxOnStill): string {
  return ownKind ?? (counted ? species : `${species}?`)
}

/**
 * Labels for boxes, best first, on a photo shown about `shownPx` wide. A label stands above its box, else below it,
 * else inside it; one that would lie over another of the same species is left out, because that one says it already.
 */
export function placeLabels(boxes: readonly BoxOnStill[], frame: Frame, shownPx: number): BoxLabel[] {
  const scale = shownPx / frame.width
  const shown = { width: shownPx, height: frame.height * scale }
  const placed: (Area & { words: string; species: Species })[] = []
  for (const box of boxes) {
    const words = labelWords(box)
    const [x0, y0, , y1] = box.box
    const width = words.length * LETTER_PX + PADDING_PX
    const x = clamp(x0 * scale, shown.width - width)
    const tries = [y0 * scale - LABEL_HEIGHT_PX, y1 * scale, y0 * scale].map(
      (y): Area => ({ x, y, width, height: LABEL_HEIGHT_PX }),
    )
    const inside = tries.filter(({ y }) => y >= 0 && y + LABEL_HEIGHT_PX <= shown.height)
    const free = inside.find((area) => !placed.some((other) => overlap(area, other)))
    const said = inside.some((area) =>
      placed.some((other) => other.species === box.species && overlap(area, other)),
    )
    if (free === undefined && said) continue
    const area = free ??
      inside[0] ?? { x, y: clamp(y0 * scale, shown.height - LABEL_HEIGHT_PX), width, height: LABEL_HEIGHT_PX }
    placed.push({ ...area, words, species: box.species })
  }
  return placed.map(({ words, species, x, y }) => ({
    words,
    species,
    leftPercent: (100 * x) / shown.width,
    topPercent: (100 * y) / shown.height,
  }))
}

function clamp(value: number, most: number): number {
  return Math.max(0, Math.min(value, most))
}

function overlap(a: Area, b: Area): boolean {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height
}
