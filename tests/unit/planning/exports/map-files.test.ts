/**
 * Files for maps. GPX and KML are held against what their public schemas say of order and ranges (gpx.xsd 1.1 and OGC
 * 07-147r2, from memory), by a reader of our own; tests/browser/map-files.test.ts reads them with a browser's.
 */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readPointsFile } from '../../../../services/http/points-file.ts'
import { geoJsonOf } from '../../../../services/planning/exports/geojson.ts'
import { gpxOf } from '../../../../services/planning/exports/gpx.ts'
import { kmlOf } from '../../../../services/planning/exports/kml.ts'
import { latitude, longitude, type MapThings } from '../../../../services/planning/exports/map-things.ts'
import { anticlockwise } from '../../../../services/planning/exports/ring.ts'
import type { Instant } from '../../../../services/words.ts'
import { anyText } from './any-text.ts'
import { all, readXml } from './read-xml.ts'

const anyWords = fc.oneof(anyText(), fc.constantFrom('a & b', '<b>"x"</b>', "'", '\r\n', '\ud800x', ']]>'))
const place = fc.record({
  lat: fc.double({ min: -90, max: 90, noNaN: true }),
  lon: fc.double({ min: -180, max: 180, noNaN: true }),
  name: anyWords,
  text: fc.option(anyWords),
})
const things = fc.record({
  name: anyWords,
  madeAt: fc.integer({ min: 0, max: 4e12 }).map((ms) => ms as Instant),
  places: fc.array(place, { maxLength: 5 }),
  round: fc.option(fc.record({ name: anyWords, places: fc.array(place, { maxLength: 5 }) })),
  areas: fc.constant([]),
})
const bores: MapThings = {
  name: 'Camels, south',
  madeAt: Date.UTC(2026, 10, 24, 2, 30) as Instant,
  places: [
    { lat: -28.373, lon: 134.241, name: 'Kite Bore', text: 'gate & grid' },
    { lat: -28.42, lon: 134.21, name: 'Old Garden Trough', text: null },
  ],
  round: {
    name: 'Round',
    places: [
      { lat: -28.4, lon: 134.2, name: 'Homestead', text: null },
      { lat: -28.373, lon: 134.241, name: 'Kite Bore', text: null },
      { lat: -28.4, lon: 134.2, name: 'Homestead', text: null },
    ],
  },
  // Clockwise on purpose.
  areas: [
    {
      name: 'Shared waters',
      text: null,
      corners: [
        { lat: -28, lon: 134 },
        { lat: -28, lon: 135 },
        { lat: -29, lon: 135 },
      ],
    },
  ],
}

/** What a reader may give back of a text: without what no XML can hold, and with line ends as they were. */
const kept = (text: string | null) =>
  (text ?? '').replace(/[^\t\n\r\u{20}-\u{D7FF}\u{E000}-\u{FFFD}\u{10000}-\u{10FFFF}]/gu, '')
const inOrder = (names: readonly string[], schema: readonly string[]) => {
  const places = names.map((name) => schema.indexOf(name))
  expect(places).not.toContain(-1)
  expect(places).toEqual([...places].sort((a, b) => a - b))
}

describe('GPX 1.1', () => {
  it('has the elements of the schema in its order, whatever people write', () => {
    fc.assert(
      fc.property(things, (given) => {
        const gpx = readXml(gpxOf(given))
        expect(gpx.attributes).toEqual({
          xmlns: 'http://www.topografix.com/GPX/1/1',
          version: '1.1',
          creator: 'Hooftally',
        })
        inOrder(
          gpx.children.map(({ name }) => name),
          ['metadata', 'wpt', 'rte', 'trk', 'extensions'],
        )
        inOrder(
          gpx.children[0]!.children.map(({ name }) => name),
          ['name', 'desc', 'author', 'copyright', 'link', 'time', 'keywords', 'bounds'],
        )
        const points = [...all(gpx, 'wpt'), ...all(gpx, 'rtept')]
        expect(points.length).toBe(given.places.length + (given.round?.places.length ?? 0))
        for (const { attributes, children } of points) {
          inOrder(
            children.map(({ name }) => name),
            ['ele', 'time', 'magvar', 'geoidheight', 'name', 'cmt', 'desc'],
          )
          // latitudeType and longitudeType: decimals, -90 to 90, and -180 up to but not 180.
          expect(attributes.lat).toMatch(/^-?\d+(\.\d+)?$/)
          expect(Math.abs(Number(attributes.lat))).toBeLessThanOrEqual(90)
          expect(attributes.lon).toMatch(/^-?\d+(\.\d+)?$/)
          expect(Number(attributes.lon)).toBeGreaterThanOrEqual(-180)
          expect(Number(attributes.lon)).toBeLessThan(180)
        }
        const words = all(gpx, 'wpt').map(
          ({ children }) => children.find(({ name }) => name === 'desc')?.text ?? '',
        )
        expect(words).toEqual(given.places.map(({ text }) => kept(text)))
      }),
    )
  })

  it('of two bores and a round is this', () => {
    expect(gpxOf(bores)).toBe(`<?xml version="1.0" encoding="UTF-8"?>
<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="Hooftally">
<metadata><name>Camels, south</name><time>2026-11-24T02:30:00.000Z</time></metadata>
<wpt lat="-28.373" lon="134.241"><name>Kite Bore</name><desc>gate &amp; grid</desc></wpt>
<wpt lat="-28.42" lon="134.21"><name>Old Garden Trough</name></wpt>
<rte><name>Round</name>
<rtept lat="-28.4" lon="134.2"><name>Homestead</name></rtept>
<rtept lat="-28.373" lon="134.241"><name>Kite Bore</name></rtept>
<rtept lat="-28.4" lon="134.2"><name>Homestead</name></rtept>
</rte>
</gpx>
`)
  })
})

describe('KML 2.2', () => {
  it('has each place, the round and the areas as placemarks, in the schema’s order', () => {
    const kml = readXml(kmlOf(bores))
    expect(kml.attributes).toEqual({ xmlns: 'http://www.opengis.net/kml/2.2' })
    const marks = all(kml, 'Placemark')
    expect(marks).toHaveLength(4)
    for (const mark of marks)
      inOrder(
        mark.children.map(({ name }) => name),
        [
          'name',
          'visibility',
          'open',
          'description',
          'TimeStamp',
          'styleUrl',
          'Point',
          'LineString',
          'Polygon',
        ],
      )
    expect(all(marks[0]!, 'coordinates')[0]!.text).toBe('134.241,-28.373')
    expect(all(marks[2]!, 'coordinates')[0]!.text).toBe('134.2,-28.4 134.241,-28.373 134.2,-28.4')
    // Anticlockwise from the first corner, and closed.
    expect(all(marks[3]!, 'coordinates')[0]!.text).toBe('134,-28 135,-29 135,-28 134,-28')
  })

  it('holds whatever people write', () => {
    fc.assert(
      fc.property(things, (given) => {
        const marks = all(readXml(kmlOf(given)), 'Placemark').slice(0, given.places.length)
        expect(marks.map(({ children }) => children.find(({ name }) => name === 'name')?.text ?? '')).toEqual(
          given.places.map(({ name }) => kept(name)),
        )
      }),
    )
  })
})

describe('GeoJSON', () => {
  it('is read by the house’s own reader of points', () => {
    const places = bores.places.map((place) => ({ ...place, text: null }))
    const file = JSON.stringify(geoJsonOf({ places, round: null, areas: [] }))
    expect(readPointsFile(file, 'geojson').map(({ given }) => [given.name, given.lat, given.lon])).toEqual([
      ['Kite Bore', -28.373, 134.241],
      ['Old Garden Trough', -28.42, 134.21],
    ])
  })

  it('has longitude first, lines of two places or more, and rings that are closed and anticlockwise (RFC 7946, 3.1)', () => {
    const { features } = geoJsonOf(bores)
    expect(features.map(({ geometry }) => geometry.type)).toEqual(['Point', 'Point', 'LineString', 'Polygon'])
    expect(features[0]!.geometry.coordinates).toEqual([134.241, -28.373])
    expect(features[3]!.geometry.coordinates).toEqual([
      [
        [134, -28],
        [135, -29],
        [135, -28],
        [134, -28],
      ],
    ])
    const lonely = { name: 'Round', places: bores.places.slice(0, 1) }
    expect(geoJsonOf({ ...bores, round: lonely, areas: [] }).features).toHaveLength(2)
  })
})

describe('a ring', () => {
  const corner = fc.record({
    lat: fc.integer({ min: -80, max: 80 }),
    lon: fc.integer({ min: -170, max: 170 }),
  })
  it('is the same whichever way its corners come, but for where it begins', () => {
    fc.assert(
      fc.property(fc.tuple(corner, corner, corner), ([a, b, c]) => {
        fc.pre((b.lon - a.lon) * (c.lat - a.lat) !== (c.lon - a.lon) * (b.lat - a.lat))
        const ring = anticlockwise([a, b, c])
        expect(anticlockwise([a, c, b])).toEqual(ring)
        // To the left of the first side lies the third corner.
        const [p, q, r] = ring as [typeof a, typeof a, typeof a]
        expect((q.lon - p.lon) * (r.lat - p.lat) - (r.lon - p.lon) * (q.lat - p.lat)).toBeGreaterThan(0)
      }),
    )
  })

  it('of two corners, or three in a line, is none', () => {
    expect(() =>
      anticlockwise([
        { lat: 0, lon: 0 },
        { lat: 1, lon: 1 },
      ]),
    ).toThrow(RangeError)
    expect(() => anticlockwise([0, 1, 2].map((at) => ({ lat: at, lon: at })))).toThrow(RangeError)
  })
})

it('a place is on Earth, and written as a decimal without an exponent', () => {
  expect(latitude(-1e-9)).toBe('0')
  expect(longitude(180)).toBe('-180')
  expect(longitude(134.24100000049)).toBe('134.241')
  expect(latitude(-30)).toBe('-30')
  expect(() => latitude(90.1)).toThrow(RangeError)
  expect(() => longitude(Number.NaN)).toThrow(RangeError)
})
