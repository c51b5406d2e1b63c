/** A file of points: CSV (RFC 4180, with a header line) or GeoJSON points (RFC 7946). */
import { parse as parseCsv } from 'csv-parse/sync'
import { z } from 'zod'
import { Refusal } from '../refusal.ts'
import type { PointToPut } from '../store/points.ts'
import { pointChangeDoor, pointDoor } from './doors.ts'
import { parse } from './parse.ts'

const COLUMNS = 'name, lat, lon and, if wanted, kind, hasYard, runOrder, lowMarkPercent, dryMarkPercent'

/** A row without its defaults: what it leaves out of a known point stays as it is. */
const rowDoor = pointChangeDoor.extend(pointDoor.pick({ name: true, lat: true, lon: true }).shape)

const geoJsonDoor = z.object({
  type: z.literal('FeatureCollection'),
  features: z
    .array(
      z.object({
        type: z.literal('Feature'),
        geometry: z.object({ type: z.literal('Point'), coordinates: z.array(z.number()).min(2) }),
        properties: z.record(z.string(), z.unknown()).nullable(),
      }),
    )
    .min(1),
})

/** @throws Refusal that names the row and the column, as a person counts them: the first point is row 1. */
export function readPointsFile(text: string, kind: 'csv' | 'geojson'): PointToPut[] {
  const rows = kind === 'csv' ? rowsOfCsv(text) : rowsOfGeoJson(text)
  if (rows.length === 0) throw refused('there is no point in it')
  const points = rows.map((row, index) => {
    const where = `row ${index + 1}`
    return { whenNew: parse(pointDoor, row, where), given: parse(rowDoor, row, where) }
  })
  const names = new Set<string>()
  for (const [index, { whenNew }] of points.entries()) {
    const { name } = whenNew
    if (names.has(name)) {
      throw new Refusal({
        kind: 'bad input',
        detail: `row ${index + 1}.name: "${name}" stands in the file twice.`,
        field: `row ${index + 1}.name`,
        remedy: 'Give each point a name of its own.',
      })
    }
    names.add(name)
  }
  return points
}

const NUMBERS = ['lat', 'lon', 'runOrder', 'lowMarkPercent', 'dryMarkPercent']
const SPELLINGS: Readonly<Record<string, string>> = {
  latitude: 'lat',
  longitude: 'lon',
  long: 'lon',
  lng: 'lon',
  yard: 'hasYard',
  hasyard: 'hasYard',
  runorder: 'runOrder',
  order: 'runOrder',
  lowmarkpercent: 'lowMarkPercent',
  drymarkpercent: 'dryMarkPercent',
}

function rowsOfCsv(text: string): Array<Record<string, unknown>> {
  let rows: Array<Record<string, string>>
  try {
    rows = parseCsv(text, {
      bom: true,
      trim: true,
      skip_empty_lines: true,
      columns: (header: string[]) =>
        header.map((name) => SPELLINGS[name.toLowerCase()] ?? name.toLowerCase()),
    })
  } catch (fault) {
    throw refused(fault instanceof Error ? fault.message : String(fault))
  }
  return rows.map((row) => {
    const given = Object.entries(row).filter(([, value]) => value !== '')
    return Object.fromEntries(
      given.map(([column, value]) => {
        if (NUMBERS.includes(column)) return [column, Number(value)]
        if (column === 'hasYard') return [column, yesOrNo(value)]
        return [column, value]
      }),
    )
  })
}

/** What is neither stays as it came, for the door to name. */
function yesOrNo(value: string): boolean | string {
  if (/^(yes|y|true|1|yard)$/i.test(value)) return true
  return /^(no|n|false|0)$/i.test(value) ? false : value
}

function rowsOfGeoJson(text: string): Array<Record<string, unknown>> {
  let json: unknown
  try {
    json = JSON.parse(text.replace(/^\ufeff/, ''))
  } catch (fault) {
    throw refused(fault instanceof Error ? fault.message : String(fault))
  }
  return parse(geoJsonDoor, json, 'file').features.map(({ geometry, properties }) => ({
    ...properties,
    lon: geometry.coordinates[0],
    lat: geometry.coordinates[1],
  }))
}

function refused(why: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `The points file could not be read: ${why}.`,
    field: 'file',
    remedy: `Send CSV with a header line (${COLUMNS}), or GeoJSON points with a name.`,
  })
}
