/** A file of distances: CSV (RFC 4180) with the header from, to, km; places by their names. */
import { parse as parseCsv } from 'csv-parse/sync'
import { HOME, type PlaceId } from '../planning/track-distances.ts'
import { Refusal } from '../refusal.ts'
import type { SaidDistance } from '../store/driving.ts'
import { parse } from './parse.ts'
import { distanceRowDoor } from './program-doors.ts'

const MOST_ROWS = 2_000
const HOMESTEAD = /^(home|homestead)$/i

/** @throws Refusal that names the row as a person counts them (the first distance is row 1) and the column */
export function readDistancesFile(
  text: string,
  points: ReadonlyArray<{ readonly id: number; readonly name: string }>,
): SaidDistance[] {
  const rows = rowsOf(text)
  if (rows.length === 0) throw refused('there is no distance in it')
  if (rows.length > MOST_ROWS) throw refused(`it has more than ${MOST_ROWS} distances`)
  const byName = new Map(points.map(({ id, name }) => [name.toLowerCase(), id]))
  const place = (name: string, field: string): PlaceId => {
    const id = byName.get(name.toLowerCase())
    if (id !== undefined) return id
    if (HOMESTEAD.test(name)) return HOME
    throw new Refusal({
      kind: 'bad input',
      detail: `${field}: there is no point "${name}".`,
      field,
      remedy: 'Write a point as Set-up names it, or "homestead".',
    })
  }
  return rows.map((row, i) => {
    const where = `row ${i + 1}`
    const { from, to, km } = parse(distanceRowDoor, row, where)
    const between = [place(from, `${where}.from`), place(to, `${where}.to`)] as const
    if (between[0] !== between[1]) return { between, km }
    throw new Refusal({
      kind: 'bad input',
      detail: `${where}.to: "${to}" is where it begins.`,
      field: `${where}.to`,
      remedy: 'A way leads from one place to another.',
    })
  })
}

function rowsOf(text: string): Array<Record<string, unknown>> {
  try {
    const rows: Array<Record<string, string>> = parseCsv(text, {
      bom: true,
      trim: true,
      skip_empty_lines: true,
      columns: (header: string[]) => header.map((name) => name.toLowerCase()),
    })
    return rows.map(({ km, ...row }) => ({
      ...row,
      ...(km !== undefined && km !== '' && { km: Number(km) }),
    }))
  } catch (fault) {
    throw refused(fault instanceof Error ? fault.message : String(fault))
  }
}

const refused = (why: string) =>
  new Refusal({
    kind: 'bad input',
    detail: `The file of distances could not be read: ${why}.`,
    field: 'file',
    remedy: 'Send CSV with a header line: from, to, km.',
  })
