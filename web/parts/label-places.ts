/** Where the names of points go on a map, so that they lie neither on each other nor on a point nor off the sheet. */

export interface ToLabel {
  readonly x: number
  readonly y: number
  readonly words: string
}

export interface LabelPlace {
  readonly x: number
  readonly y: number
  readonly anchor: 'start' | 'middle' | 'end'
}

export interface Sheet {
  readonly width: number
  readonly height: number
  /** Of the letters, in the sheet's units. */
  readonly fontSize: number
  /** From the middle of a point to its edge. */
  readonly pointRadius: number
}

/** A letter's mean width over its height in common sans-serif faces (from memory). */
const LETTER_WIDTH = 0.56
const GAP = 4

interface Box {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** One for each, in order: of the places round the point the first that is free, else the one that covers least. */
export function labelPlaces(points: readonly ToLabel[], sheet: Sheet): LabelPlace[] {
  const taken: Box[] = points.map(({ x, y }) => around(x, y, sheet.pointRadius))
  return points.map((point) => {
    const choices = placesRound(point, sheet)
    const covers = choices.map(({ box }) =>
      taken.reduce((sum, other) => sum + overlap(box, other), off(box, sheet)),
    )
    const best = choices[covers.indexOf(Math.min(...covers))]!
    taken.push(best.box)
    return best.place
  })
}

function placesRound({ x, y, words }: ToLabel, { fontSize, pointRadius }: Sheet) {
  const width = words.length * fontSize * LETTER_WIDTH
  const away = pointRadius + GAP
  const middle = y + fontSize * 0.35
  const place = (at: LabelPlace) => {
    const left = at.anchor === 'start' ? at.x : at.anchor === 'end' ? at.x - width : at.x - width / 2
    return {
      place: at,
      box: { left, right: left + width, top: at.y - fontSize, bottom: at.y + fontSize * 0.25 },
    }
  }
  return [
    place({ x: x + away, y: middle, anchor: 'start' }),
    place({ x: x - away, y: middle, anchor: 'end' }),
    place({ x, y: y - away, anchor: 'middle' }),
    place({ x, y: y + away + fontSize * 0.8, anchor: 'middle' }),
    place({ x: x + away * 0.7, y: y - away * 0.7, anchor: 'start' }),
    place({ x: x - away * 0.7, y: y - away * 0.7, anchor: 'end' }),
    place({ x: x + away * 0.7, y: y + away * 0.7 + fontSize * 0.8, anchor: 'start' }),
    place({ x: x - away * 0.7, y: y + away * 0.7 + fontSize * 0.8, anchor: 'end' }),
  ]
}

const around = (x: number, y: number, radius: number): Box => ({
  left: x - radius,
  right: x + radius,
  top: y - radius,
  bottom: y + radius,
})

/** Area in common. */
function overlap(a: Box, b: Box): number {
  const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left)
  const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top)
  return wide > 0 && high > 0 ? wide * high : 0
}

/** What lies off the sheet weighs more than what lies on another name: it could not be read at all. */
function off({ left, right, top, bottom }: Box, { width, height }: Sheet): number {
  const beyond =
    Math.max(0, -left) + Math.max(0, right - width) + Math.max(0, -top) + Math.max(0, bottom - height)
  return beyond * 1000
}
