/** CSV (RFC 4180): records of fields, each record ended by CRLF. */

export type CsvField = string | number | null

/** Spreadsheets take a text that begins so for a formula, and people write notes (OWASP, CSV Injection, from memory). */
const FORMULA = /^[=+\-@\t\r]/

/**
 * A whole file, the first record its header. Null is empty. A text that a spreadsheet would run gets an apostrophe before it.
 * @throws RangeError for a record of another length than the header, or a number that is none
 */
export function csvOf(header: readonly string[], records: ReadonlyArray<readonly CsvField[]>): string {
  for (const record of records)
    if (record.length !== header.length)
      throw new RangeError(`a record has ${header.length} fields, and this one ${record.length}`)
  return [header, ...records].map((record) => `${record.map(fieldOf).join(',')}\r\n`).join('')
}

function fieldOf(value: CsvField): string {
  if (value === null) return ''
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new RangeError(`${value} is no number to write`)
    return String(value)
  }
  const text = FORMULA.test(value) ? `'${value}` : value
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}
