import geodesic from 'geographiclib-geodesic'

export interface Place {
  readonly lat: number
  readonly lon: number
}

/** Kilometres along the ground between two places (degrees, WGS 84): Karney 2013, doi:10.1007/s00190-012-0578-z. */
export function kilometresBetween(a: Place, b: Place): number {
  const { s12 } = geodesic.Geodesic.WGS84.Inverse(a.lat, a.lon, b.lat, b.lon)
  return (s12 ?? 0) / 1000
}
