/** KML 2.2 (OGC 07-147r2): places, the round as a line, areas as polygons. */
import type { Place } from '../distance.ts'
import { latitude, longitude, type MapThings } from './map-things.ts'
import { anticlockwise, closed } from './ring.ts'
import { XML_HEAD, xmlElement } from './xml-text.ts'

/** A whole file. @throws RangeError for a place that is not on Earth, or an area that is none */
export function kmlOf({ name, places, round, areas }: MapThings): string {
  const marks = [
    ...places.map((place) =>
      placemark(place.name, place.text, `<Point><coordinates>${at(place)}</coordinates></Point>`),
    ),
    // A line needs two places.
    ...(round && round.places.length >= 2
      ? [
          placemark(
            round.name,
            null,
            `<LineString><tessellate>1</tessellate>${line(round.places)}</LineString>`,
          ),
        ]
      : []),
    ...areas.map((area) =>
      placemark(
        area.name,
        area.text,
        `<Polygon><outerBoundaryIs><LinearRing>${line(closed(anticlockwise(area.corners)))}</LinearRing></outerBoundaryIs></Polygon>`,
      ),
    ),
  ]
  return `${XML_HEAD}<kml xmlns="http://www.opengis.net/kml/2.2">\n<Document>${xmlElement('name', name)}\n${marks.join('')}</Document>\n</kml>\n`
}

/** In the schema's order: name, description, geometry. */
const placemark = (name: string, text: string | null, geometry: string) =>
  `<Placemark>${xmlElement('name', name)}${xmlElement('description', text)}${geometry}</Placemark>\n`

/** Longitude first, no blank inside. */
const at = ({ lat, lon }: Place) => `${longitude(lon)},${latitude(lat)}`
const line = (places: readonly Place[]) => `<coordinates>${places.map(at).join(' ')}</coordinates>`
