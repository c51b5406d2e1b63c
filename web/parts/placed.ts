/** Where points stand on a small map: an equirectangular sheet about their middle, good over a station's width. */
const WIDTH = 360
const MARGIN = 34
const ROOM_TO_THE_RIGHT = 250
const LEAST_HEIGHT = 160
const MOST_HEIGHT = 420
/** Degrees: a station of one point is not blown up to fill the sheet. */
const LEAST_SPAN = 0.01

/** Kilometres to a degree of latitude, within a hundredth anywhere (WGS 84). */
const KM_A_DEGREE = 111.1

interface Somewhere {
  readonly lat: number
  readonly lon: number
}

export interface PlacedPoint<Point> {
  readonly point: Point
  readonly x: number
  readonly y: number
  /** Its name goes to the left, or it would leave the sheet. */
  readonly leftwards: boolean
}

export function placed<Point extends Somewhere>(
  points: readonly Point[],
): {
  readonly points: readonly PlacedPoint<Point>[]
  readonly width: number
  readonly height: number
  /** Length of a kilometre on the sheet. */
  readonly unitsAKm: number
} {
  const middle = (values: readonly number[]) => (Math.min(...values) + Math.max(...values)) / 2
  const span = (values: readonly number[]) => Math.max(LEAST_SPAN, Math.max(...values) - Math.min(...values))
  const lat = middle(points.map((point) => point.lat))
  // Degrees of longitude are narrower away from the equator.
  const narrower = Math.max(0.01, Math.cos((lat * Math.PI) / 180))
  const east = points.map((point) => point.lon * narrower)
  const north = points.map((point) => point.lat)
  const inner = { width: WIDTH - 2 * MARGIN, height: MOST_HEIGHT - 2 * MARGIN }
  const scale = Math.min(inner.width / span(east), inner.height / span(north))
  const height = Math.min(MOST_HEIGHT, Math.max(LEAST_HEIGHT, span(north) * scale + 2 * MARGIN))
  const centre = middle(east)
  return {
    width: WIDTH,
    height,
    unitsAKm: scale / KM_A_DEGREE,
    points: points.map((point, i) => {
      const x = WIDTH / 2 + (east[i]! - centre) * scale
      return { point, x, y: height / 2 - (north[i]! - lat) * scale, leftwards: x > ROOM_TO_THE_RIGHT }
    }),
  }
}
