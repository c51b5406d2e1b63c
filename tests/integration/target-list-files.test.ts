/** Every export of a target list, as its route gives it, read by a reader that did not write it; with names that hurt. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { parse as parseCsv } from 'csv-parse/sync'
import ICAL from 'ical.js'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { validateXML } from 'xmllint-wasm'
import { z } from 'zod'
import { projectFolder } from '../../services/paths.ts'
import { all, readXml } from '../unit/planning/exports/read-xml.ts'
import { makeProgram } from './planned-program.ts'
import { everyNights, openProgramStation, type ProgramStation } from './program-station.ts'

/** Quotes, tags, a formula, a line break, right to left, an emoji, the end of CDATA, an XML entity. */
const NAMES = [
  'Tom\'s "Big" Bore & <b>Tank</b>',
  '=HYPERLINK("http://example.org","x")',
  'Two\nlines, and; a comma\\',
  'بئر الجمال 🐪',
  ']]>&amp; Well',
]
const NOTE = '+1; call "Bo", then\r\nwait\t<here> & 🐫'
const PROGRAM = 'Camels; "north", <&> 🐪\nand south'

let station: ProgramStation
let base: string
beforeAll(async () => {
  station = await openProgramStation(
    NAMES.map((name, i) => ({
      name,
      lat: -28 - i / 10,
      lon: 134 + i / 10,
      came: everyNights(2 * i + 3, { camel: 9 - i }),
    })),
  )
  const { id } = await makeProgram(station.service, { name: PROGRAM, method: '@trap', note: '-note,\nlong' })
  base = `/api/programs/${id}/target-list`
  const noted = await station.service.send('POST', base, {
    version: 0,
    edit: { kind: 'note', pointId: station.idOf(NAMES[0]!), text: NOTE },
  })
  expect(noted.status).toBe(201)
  await station.service.send('PUT', `/api/points/${station.idOf(NAMES[0]!)}/access`, {
    gates: '"two", <locked>',
  })
})
afterAll(() => station?.stop())

async function file(ending: string, type: string): Promise<string> {
  const answer = await station.service.ask(`${base}.${ending}`)
  expect(answer.status, answer.bytes.toString().slice(0, 300)).toBe(200)
  expect(answer.headers.get('content-type')).toContain(type)
  expect(answer.headers.get('content-disposition')).toMatch(/^attachment; filename="?target-list-\d+\.\w+"?$/)
  return answer.bytes.toString()
}

async function faultsBy(schema: string, xml: string): Promise<readonly string[]> {
  const fixture = readFileSync(join(projectFolder, 'tests', 'reference', 'fixtures', schema), 'utf8')
  const { errors } = await validateXML({
    xml: [{ fileName: 'list.xml', contents: xml }],
    schema: [{ fileName: 'schema.xsd', contents: fixture }],
  })
  return errors.map(({ message }) => message)
}

describe('GPX 1.1', () => {
  it('is valid by the schema (the part of it written down in tests/reference/fixtures)', async () => {
    expect(await faultsBy('gpx-1.1-part.xsd', await file('gpx', 'application/gpx+xml'))).toEqual([])
  })

  it('the schema does find faults: an unknown element, an order that is wrong, a place off the Earth', async () => {
    const xml = await file('gpx', 'application/gpx+xml')
    for (const broken of [
      xml.replace('<metadata>', '<metadata><colour/>'),
      xml.replace(/(<wpt [^>]*>)(<name>[^<]*<\/name>)(<desc>[^<]*<\/desc>)/, '$1$3$2'),
      xml.replace(/lat="-28/, 'lat="-128'),
    ]) {
      expect(broken).not.toBe(xml)
      expect(await faultsBy('gpx-1.1-part.xsd', broken)).not.toEqual([])
    }
  })

  it('holds every point by its name in the order of the list, and the round home', async () => {
    const { names, texts } = readMarks(await file('gpx', 'application/gpx+xml'), 'wpt', 'desc')
    expect(names).toEqual(NAMES.map((name, i) => `${i + 1} ${name}`))
    expect(texts[0]).toContain(NOTE)
    expect(texts[0]).toContain('"two", <locked>')
    const stops = readMarks(await file('gpx', 'application/gpx+xml'), 'rtept', 'desc').names
    expect(stops).toEqual(['Homestead', ...names, 'Homestead'])
  })
})

describe('KML 2.2', () => {
  it('is valid by the schema (the part of it written down in tests/reference/fixtures)', async () => {
    expect(
      await faultsBy('kml-2.2-part.xsd', await file('kml', 'application/vnd.google-earth.kml+xml')),
    ).toEqual([])
  })

  it('the schema does find faults: coordinates with a blank inside, a geometry before the name', async () => {
    const xml = await file('kml', 'application/vnd.google-earth.kml+xml')
    for (const broken of [
      xml.replace(/<Point><coordinates>([^,]*),/, '<Point><coordinates>$1, '),
      xml.replace(/<Placemark>(<name>[^<]*<\/name>)(<description>[^<]*<\/description>)/, '<Placemark>$2$1'),
    ]) {
      expect(broken).not.toBe(xml)
      expect(await faultsBy('kml-2.2-part.xsd', broken)).not.toEqual([])
    }
  })

  it('holds every point by its name', async () => {
    const { names } = readMarks(
      await file('kml', 'application/vnd.google-earth.kml+xml'),
      'Placemark',
      'description',
    )
    expect(names).toEqual([...NAMES.map((name, i) => `${i + 1} ${name}`), `${PROGRAM}: round`])
  })
})

describe('GeoJSON', () => {
  const position = z.tuple([z.number().min(-180).max(180), z.number().min(-90).max(90)])
  /** RFC 7946, sections 3.1.2, 3.1.4, 3.2 and 3.3; nothing of the forbidden `crs` (section 4). */
  const collection = z.strictObject({
    type: z.literal('FeatureCollection'),
    features: z.array(
      z.strictObject({
        type: z.literal('Feature'),
        geometry: z.discriminatedUnion('type', [
          z.strictObject({ type: z.literal('Point'), coordinates: position }),
          z.strictObject({ type: z.literal('LineString'), coordinates: z.array(position).min(2) }),
        ]),
        properties: z.strictObject({ name: z.string(), text: z.string().optional() }),
      }),
    ),
  })

  it('is what RFC 7946 says, longitude first, with every name as it is', async () => {
    const { features } = collection.parse(JSON.parse(await file('geojson', 'application/geo+json')))
    expect(features.slice(0, -1).map(({ properties }) => properties.name)).toEqual(
      NAMES.map((name, i) => `${i + 1} ${name}`),
    )
    expect(features[0]!.geometry).toEqual({ type: 'Point', coordinates: [134, -28] })
    expect(features[0]!.properties.text).toContain(NOTE)
    expect(features.at(-1)!.geometry.coordinates).toHaveLength(NAMES.length + 2)
  })
})

describe('CSV', () => {
  it('is read back record by record, and a formula is none any more', async () => {
    const text = await file('csv', 'text/csv')
    const rows: Array<Record<string, string>> = parseCsv(text, { columns: true })
    // A spreadsheet would run a text that begins so (OWASP, CSV Injection, from memory).
    const safe = (name: string) => (/^[=+\-@]/.test(name) ? `'${name}` : name)
    expect(rows.map(({ order, point }) => [order, point])).toEqual(
      NAMES.map((name, i) => [String(i + 1), safe(name)]),
    )
    expect(rows[0]).toMatchObject({ note: `'${NOTE}`, gates: '"two", <locked>', largest_group: '9' })
    for (const row of rows)
      for (const value of Object.values(row)) expect(value).not.toMatch(/^[=+@\t\r]|^-[^\d]/)
  })
})

describe('iCalendar', () => {
  it('is one event over the days of the program, and the same event again', async () => {
    const text = await file('ics', 'text/calendar')
    const calendar = new ICAL.Component(ICAL.parse(text) as unknown[])
    const events = calendar.getAllSubcomponents('vevent').map((one) => new ICAL.Event(one))
    expect(events).toHaveLength(1)
    const [event] = events
    // The nights of 7 to 11 December: evening of the 7th to the morning of the 12th; the end is the day after (section 3.6.1).
    expect([event!.startDate.toString(), event!.endDate.toString()]).toEqual(['2026-12-07', '2026-12-13'])
    expect(event!.summary).toContain(PROGRAM)
    for (const name of NAMES) expect(event!.description).toContain(name)
    expect(event!.description).toContain('licensed and trained people')
    const again = new ICAL.Event(
      new ICAL.Component(ICAL.parse(await file('ics', 'text/calendar')) as unknown[]).getFirstSubcomponent(
        'vevent',
      )!,
    )
    expect(again.uid).toBe(event!.uid)
  })

  it('has lines of at most 75 octets that end with CR LF (RFC 5545, section 3.1)', async () => {
    const lines = (await file('ics', 'text/calendar')).split('\r\n')
    expect(lines.pop()).toBe('')
    expect(lines.filter((line) => /[\r\n]/.test(line) || Buffer.byteLength(line) > 75)).toEqual([])
  })
})

function readMarks(xml: string, tag: string, textTag: string) {
  const marks = all(readXml(xml), tag)
  const inside = (mark: (typeof marks)[number], name: string) =>
    mark.children.find((child) => child.name === name)?.text ?? ''
  return {
    names: marks.map((mark) => inside(mark, 'name')),
    texts: marks.map((mark) => inside(mark, textTag)),
  }
}
