/** The week as a mail: its text and what goes with it. Nothing sends it yet. */
import type { PressureAnswer } from '../http/pressure-shapes.ts'
import { reportCsv, unitsCsv } from './csv.ts'
import { reportHtml, reportLines } from './html.ts'

export interface Mail {
  readonly subject: string
  /** Plain text, lines ended by LF. */
  readonly text: string
  readonly attachments: ReadonlyArray<{
    readonly name: string
    readonly type: 'text/html' | 'text/csv'
    readonly content: string
  }>
}

/** `report`: with every row, as the CSV needs it. */
export function mailOf(report: PressureAnswer): Mail {
  return {
    subject: `${report.station}: grazing pressure, ${report.week}`,
    text: `${reportLines(report).join('\n')}\n`,
    attachments: [
      {
        name: `grazing-pressure-${report.week}.html`,
        type: 'text/html',
        content: reportHtml(report),
      },
      { name: `grazing-pressure-${report.week}.csv`, type: 'text/csv', content: reportCsv(report) },
      { name: 'grazing-pressure-units.csv', type: 'text/csv', content: unitsCsv() },
    ],
  }
}
