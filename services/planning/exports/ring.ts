/** The outline of an area: closed, and anticlockwise as maps want it. */
import type { Place } from '../distance.ts'

/** Twice the area on a flat map, over 0 where the corners go anticlockwise (shoelace formula). */
const signedArea = (corners: readonly Place[]) =>
  corners.reduce((sum, { lat, lon }, i) => {
    const next = corners[(i + 1) % corners.length]!
    return sum + lon * next.lat - next.lon * lat
  }, 0)

/**
 * The corners anticlockwise, from the first on (RFC 7946, section 3.1.6).
 * @throws RangeError for fewer than three corners, or all of them in a line
 */
export function anticlockwise(corners: readonly Place[]): Place[] {
  const area = signedArea(corners)
  if (corners.length < 3 || area === 0)
    throw new RangeError('an area has three corners that are not in a line')
  return area > 0 ? [...corners] : [corners[0]!, ...corners.slice(1).reverse()]
}

/** With the first corner again at the end. */
export const closed = (corners: readonly Place[]): Place[] => [...corners, corners[0]!]
