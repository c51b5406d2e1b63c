/** How far it is from one place to another: by the owner's distance table where it says so, else along the ground. */
import { kilometresBetween, type Place } from './distance.ts'

export const HOME = 'home'
export type PlaceId = number | typeof HOME

/** A row of the owner's table; it holds both ways. */
export interface TableRow {
  readonly between: readonly [PlaceId, PlaceId]
  /** Over 0. */
  readonly km: number
}

export interface Leg {
  readonly from: PlaceId
  readonly to: PlaceId
  readonly km: number
  /** True where the table does not say: tracks are longer than that. */
  readonly straight: boolean
}

export interface Distances {
  readonly home: Place
  readonly points: ReadonlyArray<Place & { readonly pointId: number }>
  /** Of two rows for the same two places the later counts. */
  readonly table: readonly TableRow[]
}

/** The leg between any two places of the list. @throws RangeError for a row that is not over 0 km, or an unknown place */
export function legsOf({ home, points, table }: Distances): (from: PlaceId, to: PlaceId) => Leg {
  const places = new Map<PlaceId, Place>([[HOME, home], ...points.map((p) => [p.pointId, p] as const)])
  const rows = new Map<string, number>()
  for (const { between, km } of table) {
    if (!(km > 0)) throw new RangeError(`a track has some length, and this is ${km} km`)
    rows.set(keyOf(...between), km)
  }
  return (from, to) => {
    const [a, b] = [places.get(from), places.get(to)]
    if (a === undefined || b === undefined) throw new RangeError(`no place ${a === undefined ? from : to}`)
    const told = rows.get(keyOf(from, to))
    return { from, to, km: told ?? kilometresBetween(a, b), straight: told === undefined }
  }
}

const keyOf = (a: PlaceId, b: PlaceId) => [String(a), String(b)].sort().join(' ')
