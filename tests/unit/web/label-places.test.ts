/** Names on a map lie neither on each other nor off the sheet, as far as there is room. */
import { describe, expect, it } from 'vitest'
import { labelPlaces, type Sheet, type ToLabel } from '../../../web/parts/label-places.ts'

const sheet: Sheet = { width: 360, height: 300, fontSize: 12, pointRadius: 8 }
/** As wide as the part says: a letter takes 0.56 of its height (from memory). */
const boxOf = ({ words }: ToLabel, { x, y, anchor }: ReturnType<typeof labelPlaces>[number]) => {
  const width = words.length * 12 * 0.56
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2
  return { left, right: left + width, top: y - 12, bottom: y + 3 }
}
type Box = ReturnType<typeof boxOf>
const touch = (a: Box, b: Box) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom

const POINTS: readonly ToLabel[] = [
  { x: 170, y: 150, words: 'Old Garden Trough' },
  { x: 184, y: 128, words: 'Kite Bore' },
  { x: 176, y: 140, words: 'homestead' },
  { x: 330, y: 150, words: 'Stony Turkey Nest' },
  { x: 30, y: 20, words: 'Snakewood Bore' },
  { x: 340, y: 290, words: 'Windlass Well' },
]

describe('names', () => {
  const places = labelPlaces(POINTS, sheet)
  const boxes = POINTS.map((point, i) => boxOf(point, places[i]!))

  it('stay on the sheet', () => {
    for (const { left, right, top, bottom } of boxes) {
      expect(left).toBeGreaterThanOrEqual(0)
      expect(right).toBeLessThanOrEqual(sheet.width)
      expect(top).toBeGreaterThanOrEqual(0)
      expect(bottom).toBeLessThanOrEqual(sheet.height)
    }
  })

  it('do not lie on each other where points crowd', () => {
    for (const [i, box] of boxes.entries())
      for (const other of boxes.slice(i + 1)) expect(touch(box, other)).toBe(false)
  })

  it('stand to the right where nothing is in the way', () => {
    expect(labelPlaces([{ x: 100, y: 100, words: 'Kite Bore' }], sheet)).toEqual([
      { x: 112, y: 100 + 12 * 0.35, anchor: 'start' },
    ])
  })
})
