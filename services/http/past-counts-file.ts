/** A file of counts from a notebook: CSV (RFC 4180, with a header line), all of it or nothing. */
import { CsvError, parse as parseCsv } from 'csv-parse/sync'
import { z } from 'zod'
import { Refusal } from '../refusal.ts'
import type { NewPastCount } from '../store/past-counts.ts'
import { type NightDate, SPECIES } from '../words.ts'

const COLUMNS = 'point, night, species, head and, if wanted, visits, watched, note'
const MOST_ROWS = 20_000
const FIRST_NIGHT = '1970-01-01'
const SPELLINGS: Readonly<Record<string, string>> = {
  'water point': 'point',
  date: 'night',
  animal: 'species',
  count: 'head',
  number: 'head',
  'nights watched': 'watched',
  notes: 'note',
  remarks: 'note',
}

const whole = (most: number) => {
  const error = { error: `not a whole number from 0 to ${most}` }
  return z
    .string()
    .regex(/^\d{1,9}$/, error)
    .transform(Number)
    .pipe(z.number().max(most, error))
}
const WATCHED = { error: 'not a part of a night from 0 to 1, such as 0.5' }
const rowDoor = z.strictObject({
  point: z.string({ error: 'the name of the point is missing' }),
  night: z.iso.date({ error: 'not a night as year-month-day, such as 2025-11-03' }),
  species: z
    .string({ error: 'the species is missing' })
    .transform((word) => word.toLowerCase().replace(/^(camel|horse|donkey|goat)s$/, '$1'))
    .pipe(z.enum(SPECIES, { error: `not one of ${SPECIES.join(', ')}` })),
  head: z
    .string({ error: 'the number is missing; write 0 where you looked and saw none' })
    .pipe(whole(100_000)),
  visits: whole(1_000).optional(),
  watched: z
    .string()
    .regex(/^(0|1|0?[.,]\d{1,6}|1[.,]0+|0[.,]\d{1,6})$/, WATCHED)
    .transform((text) => Number(text.replace(',', '.')))
    .optional(),
  note: z
    .string()
    .max(500)
    .refine((text) => !text.includes('\0'), { error: 'holds a NUL character' })
    .optional(),
})

export interface FileFrame {
  readonly points: readonly { readonly id: number; readonly name: string }[]
  /** A notebook tells of nights that were. */
  readonly lastNight: NightDate
}

/** @throws Refusal that names the row and the column, as a person counts them: the first count is row 1 */
export function readPastCountsFile(text: string, frame: FileFrame): NewPastCount[] {
  const rows = rowsOf(text)
  if (rows.length === 0) throw badFile('there is no count in it')
  if (rows.length > MOST_ROWS)
    throw badFile(`it has ${rows.length} counts; at most ${MOST_ROWS} come in one file`)
  const byName = new Map(frame.points.map((point) => [point.name.toLowerCase(), point.id]))
  const counts: NewPastCount[] = []
  const places = new Map<string, number>()
  const watchedBy = new Map<string, { readonly row: number; readonly watched: number | null }>()
  for (const [index, given] of rows.entries()) {
    const row = index + 1
    const { point, night, species, head, visits = null, watched = null, note = null } = readRow(row, given)
    const pointId = byName.get(point.toLowerCase())
    if (pointId === undefined)
      throw atCell(row, 'point', `there is no point called "${point}"`, pointRemedy(frame))
    if (night < FIRST_NIGHT || night > frame.lastNight)
      throw atCell(
        row,
        'night',
        `${night} is not a night that was`,
        'Correct the date and send the file again.',
      )
    if (visits !== null && visits > 0 !== head > 0)
      throw atCell(
        row,
        'visits',
        `${visits} visits and ${head} head do not go together`,
        'Correct one of the two.',
      )
    const place = `${pointId} ${night} ${species}`
    const before = places.get(place)
    if (before !== undefined)
      throw atCell(
        row,
        'night',
        `row ${before} tells of the same point, night and species`,
        'Leave one of them out.',
      )
    places.set(place, row)
    const told = watchedBy.get(`${pointId} ${night}`)
    if (told !== undefined && told.watched !== watched)
      throw atCell(row, 'watched', `row ${told.row} says another part of this night`, 'Say the same in both.')
    watchedBy.set(`${pointId} ${night}`, { row, watched })
    counts.push({ row, pointId, night: night as NightDate, species, head, visits, watched, note })
  }
  return counts
}

function readRow(row: number, given: Readonly<Record<string, string>>): z.output<typeof rowDoor> {
  const result = rowDoor.safeParse(given)
  if (result.success) return result.data
  const issue = result.error.issues[0]!
  if (issue.code === 'unrecognized_keys')
    throw atCell(
      row,
      issue.keys[0] ?? '',
      'nobody knows this column',
      `Take it out; the columns are ${COLUMNS}.`,
    )
  throw atCell(row, String(issue.path[0]), issue.message, 'Correct it and send the file again.')
}

function rowsOf(text: string): Array<Record<string, string>> {
  let rows: Array<Record<string, string>>
  try {
    rows = parseCsv(text, {
      bom: true,
      trim: true,
      skip_empty_lines: true,
      skip_records_with_empty_values: true,
      delimiter: firstLine(text).includes(';') ? ';' : ',',
      columns: (header: string[]) =>
        header.map((name) => SPELLINGS[name.toLowerCase()] ?? name.toLowerCase()),
    })
  } catch (fault) {
    if (fault instanceof CsvError && fault.code === 'CSV_RECORD_INCONSISTENT_COLUMNS') {
      throw new Refusal({
        kind: 'bad input',
        detail: `row ${Number(fault.records) + 1}: it has not as many cells as the header line.`,
        field: `row ${Number(fault.records) + 1}`,
        remedy: 'Put a text that holds a comma between quotes ("). Nothing of the file was taken.',
      })
    }
    throw badFile(fault instanceof Error ? fault.message : String(fault))
  }
  return rows.map((row) => Object.fromEntries(Object.entries(row).filter(([, value]) => value !== '')))
}

const firstLine = (text: string) => text.slice(0, Math.max(0, text.search(/[\r\n]|$/)))

function pointRemedy({ points }: FileFrame): string {
  const names = points.slice(0, 12).map(({ name }) => `"${name}"`)
  return points.length === 0
    ? 'Add the points in Set-up first.'
    : `Write the name as in Set-up: ${names.join(', ')}${points.length > names.length ? ' ...' : ''}.`
}

function atCell(row: number, column: string, why: string, remedy: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `row ${row}, column ${column}: ${why}.`,
    field: `row ${row}.${column}`,
    remedy: `${remedy} Nothing of the file was taken.`,
  })
}

function badFile(why: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `The file could not be read: ${why}.`,
    field: 'file',
    remedy: `Send CSV with a header line: ${COLUMNS}. Nothing of the file was taken.`,
  })
}
