/** `hooftally report`: the week's grazing pressure as a page, as CSV or as JSON. */
import { type ReportConfig, readReportConfig } from '../config/commands.ts'
import { pressureOf } from '../http/pressure-answer.ts'
import { reportCsv, unitsCsv } from '../report/csv.ts'
import { reportHtml } from '../report/html.ts'
import { openStationPlaces } from '../store/data-folder.ts'
import { type Ledger, openLedger } from '../store/open.ts'
import type { Instant } from '../words.ts'

const HELP = `hooftally report [--week 2026-W46] [--format html|csv|json] [--data DIR]: the week's grazing pressure

  --week WEEK    its ISO name; a week begins at noon on its Monday (the last one that is over)
  --format F     html: a page that needs nothing else (unless given); csv: a row a point and species; json: as GET /api/pressure
  --units        what the columns of the CSV are, as CSV, instead of the numbers
`

export async function runReport(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readReportConfig(args, process.env)
  if (config.units) {
    process.stdout.write(unitsCsv())
    return 0
  }
  // Numbers only: the photos may lie where this machine does not look.
  const places = await openStationPlaces({ ...config, log: () => undefined, besideService: true })
  try {
    const ledger = await openLedger(places.url)
    try {
      process.stdout.write(await written(ledger, config))
    } finally {
      await ledger.destroy()
    }
    return 0
  } finally {
    await places.close()
  }
}

async function written(ledger: Ledger, { week, format }: ReportConfig): Promise<string> {
  const now = Date.now() as Instant
  const report = await pressureOf(ledger, { week, now, everyRow: format === 'csv' })
  if (format === 'csv') return reportCsv(report)
  return format === 'html' ? reportHtml(report) : `${JSON.stringify(report, null, 2)}\n`
}
