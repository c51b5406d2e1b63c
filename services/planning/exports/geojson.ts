/** GeoJSON (RFC 7946): places, the round as a line, areas as polygons, with their names and texts as properties. */
import type { Place } from '../distance.ts'
import { latitude, longitude, type MapThings } from './map-things.ts'
import { anticlockwise, closed } from './ring.ts'

type Position = readonly [lon: number, lat: number]

export interface Feature {
  readonly type: 'Feature'
  readonly geometry:
    | { readonly type: 'Point'; readonly coordinates: Position }
    | { readonly type: 'LineString'; readonly coordinates: readonly Position[] }
    | { readonly type: 'Polygon'; readonly coordinates: ReadonlyArray<readonly Position[]> }
  readonly properties: { readonly name: string; readonly text?: string }
}

export interface FeatureCollection {
  readonly type: 'FeatureCollection'
  readonly features: readonly Feature[]
}

/** @throws RangeError for a place that is not on Earth, or an area that is none */
export function geoJsonOf({ places, round, areas }: Omit<MapThings, 'madeAt' | 'name'>): FeatureCollection {
  return {
    type: 'FeatureCollection',
    features: [
      ...places.map(
        (place): Feature => ({
          type: 'Feature',
          geometry: { type: 'Point', coordinates: at(place) },
          properties: wordsOf(place),
        }),
      ),
      // A line needs two places (section 3.1.4).
      ...(round && round.places.length >= 2
        ? [
            {
              type: 'Feature',
              geometry: { type: 'LineString', coordinates: round.places.map(at) },
              properties: { name: round.name },
            } as const,
          ]
        : []),
      ...areas.map(
        (area): Feature => ({
          type: 'Feature',
          geometry: { type: 'Polygon', coordinates: [closed(anticlockwise(area.corners)).map(at)] },
          properties: wordsOf(area),
        }),
      ),
    ],
  }
}

/** Longitude first (section 3.1.1). */
const at = ({ lat, lon }: Place): Position => [Number(longitude(lon)), Number(latitude(lat))]

const wordsOf = ({ name, text }: { readonly name: string; readonly text: string | null }) =>
  text === null ? { name } : { name, text }
