/** The week's numbers as CSV (RFC 4180): a row a point and species, and a second file that says what each column is. */
import type { PressureAnswer } from '../http/pressure-shapes.ts'
import { csvOf } from '../planning/exports/csv.ts'
import { REPORT_COLUMNS } from './columns.ts'

/** `report`: with every row. */
export function reportCsv(report: PressureAnswer): string {
  const points = new Map(report.points.map((point) => [point.pointId, point]))
  return csvOf(
    REPORT_COLUMNS.map(({ name }) => name),
    report.rows.map((row) => {
      const line = { report, row, point: points.get(row.pointId)! }
      return REPORT_COLUMNS.map(({ of }) => of(line))
    }),
  )
}

export function unitsCsv(): string {
  return csvOf(
    ['column', 'unit', 'says'],
    REPORT_COLUMNS.map(({ name, unit, says }) => [name, unit, says]),
  )
}
