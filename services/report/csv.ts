/** The week's numbers as CSV (RFC 4180): a row a point and species, and a second file that says what each column is. */
import type { PressureAnswer } from '../http/pressure-shapes.ts'
import { REPORT_COLUMNS } from './columns.ts'

/** Spreadsheets take a text that begins so for a formula, and a point's name may (OWASP, CSV Injection, from memory). */
const FORMULA = /^[=+\-@\t\r]/

/** `report`: with every row. */
export function reportCsv(report: PressureAnswer): string {
  const points = new Map(report.points.map((point) => [point.pointId, point]))
  return csvOf([
    REPORT_COLUMNS.map(({ name }) => name),
    ...report.rows.map((row) => {
      const line = { report, row, point: points.get(row.pointId)! }
      return REPORT_COLUMNS.map(({ of }) => of(line))
    }),
  ])
}

export function unitsCsv(): string {
  return csvOf([
    ['column', 'unit', 'says'],
    ...REPORT_COLUMNS.map(({ name, unit, says }) => [name, unit, says]),
  ])
}

/** Records end with CRLF; null is empty. */
function csvOf(records: ReadonlyArray<ReadonlyArray<string | number | null>>): string {
  return records.map((record) => `${record.map(fieldOf).join(',')}\r\n`).join('')
}

function fieldOf(value: string | number | null): string {
  if (value === null) return ''
  if (typeof value === 'number') return String(value)
  const text = FORMULA.test(value) ? `'${value}` : value
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}
