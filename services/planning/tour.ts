/** A short round from the homestead over chosen points and back, with its kilometres and hours. */
import { MOST_EXACT, shortestRound } from './shortest-round.ts'
import { type Distances, HOME, type Leg, legsOf, type PlaceId } from './track-distances.ts'

export interface Driving {
  /** Over 0. */
  readonly kmAnHour: number
  /** At each point, at least 0. */
  readonly minutesAtPoint: number
}

export interface Tour {
  readonly order: readonly number[]
  /** From the homestead, point by point, and back. */
  readonly legs: readonly Leg[]
  readonly km: number
  readonly hours: number
  /** True: no round is shorter. False: good, and there may be a shorter one (over 12 points). */
  readonly shortest: boolean
}

/** @throws RangeError for a point that is given twice, a speed that is not over 0, or what track-distances.ts refuses */
export function tourOf(given: Distances, driving: Driving): Tour {
  const ids = given.points.map(({ pointId }) => pointId).sort((a, b) => a - b)
  if (new Set(ids).size < ids.length) throw new RangeError('a round calls at a point once')
  const places: readonly PlaceId[] = [HOME, ...ids]
  const leg = legsOf(given)
  const km = places.map((from) => places.map((to) => (from === to ? 0 : leg(from, to).km)))
  const order = shortestRound(km).map((place) => ids[place - 1]!)
  return { ...inOrder(order, { leg, driving }), shortest: ids.length <= MOST_EXACT }
}

/** The same for an order that a person chose. */
export function tourInOrder(
  order: readonly number[],
  given: Distances,
  driving: Driving,
): Omit<Tour, 'shortest'> {
  return inOrder(order, { leg: legsOf(given), driving })
}

const MINUTES_AN_HOUR = 60

function inOrder(
  order: readonly number[],
  { leg, driving }: { readonly leg: (from: PlaceId, to: PlaceId) => Leg; readonly driving: Driving },
): Omit<Tour, 'shortest'> {
  const { kmAnHour, minutesAtPoint } = driving
  if (!(kmAnHour > 0 && minutesAtPoint >= 0)) throw new RangeError(`nobody drives at ${kmAnHour} km an hour`)
  const stops: readonly PlaceId[] = [HOME, ...order, HOME]
  const legs = order.length === 0 ? [] : stops.slice(1).map((to, i) => leg(stops[i]!, to))
  const km = legs.reduce((sum, one) => sum + one.km, 0)
  return { order, legs, km, hours: km / kmAnHour + (order.length * minutesAtPoint) / MINUTES_AN_HOUR }
}
