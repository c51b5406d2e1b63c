/** GPX 1.1 (Topografix, gpx.xsd): places as waypoints, the round as a route. Areas have no home in it. */
import { latitude, longitude, type MapPlace, type MapThings } from './map-things.ts'
import { XML_HEAD, xmlElement } from './xml-text.ts'

/** A whole file. @throws RangeError for a place that is not on Earth */
export function gpxOf({ name, madeAt, places, round }: MapThings): string {
  // The schema's order: metadata, waypoints, routes; in metadata the name before the time.
  const metadata = `<metadata>${xmlElement('name', name)}<time>${new Date(madeAt).toISOString()}</time></metadata>\n`
  const waypoints = places.map((place) => `${pointOf('wpt', place)}\n`).join('')
  const route = round
    ? `<rte>${xmlElement('name', round.name)}\n${round.places.map((place) => `${pointOf('rtept', place)}\n`).join('')}</rte>\n`
    : ''
  return `${XML_HEAD}<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="Hooftally">\n${metadata}${waypoints}${route}</gpx>\n`
}

const pointOf = (tag: 'wpt' | 'rtept', { lat, lon, name, text }: MapPlace) =>
  `<${tag} lat="${latitude(lat)}" lon="${longitude(lon)}">${xmlElement('name', name)}${xmlElement('desc', text)}</${tag}>`
