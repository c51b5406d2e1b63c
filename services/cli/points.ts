/** `hooftally points FILE`: takes in a file of points, CSV or GeoJSON. */
import { readFile } from 'node:fs/promises'
import { readPointsConfig } from '../config/commands.ts'
import { readPointsFile } from '../http/points-file.ts'
import { Refusal } from '../refusal.ts'
import { openStationData } from '../store/data-folder.ts'
import { putPoints } from '../store/points.ts'
import { readSettings } from '../store/settings.ts'
import { sayLine } from './say.ts'

const HELP = `hooftally points FILE [--data DIR]: takes in a file of points

FILE is CSV with a header line (name, lat, lon and, if wanted, kind, yard, runOrder), or GeoJSON points with a name.
Of a point whose name is known what the row holds is changed; the others are added. Nothing is taken when one row is wrong.
`

export async function runPoints(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readPointsConfig(args, process.env)
  const text = await readFile(config.file, 'utf8').catch((fault: unknown) => {
    throw new Refusal({
      kind: 'not found',
      detail: `${config.file} could not be read (${fault instanceof Error ? fault.message : String(fault)}).`,
      field: 'FILE',
      remedy: 'Check the name of the file.',
    })
  })
  const points = readPointsFile(text, /^\s*\{/.test(text) ? 'geojson' : 'csv')
  const data = await openStationData({
    ...config,
    log: () => undefined,
    besideService: true,
  })
  try {
    await readSettings(data.ledger)
    const { added, changed } = await putPoints(data.ledger, points)
    sayLine(`${added.length} points added, ${changed.length} changed.`)
    return 0
  } finally {
    await data.close()
  }
}
