/** `hooftally restore FILE`: puts a backup back where no station is. */
import { resolve } from 'node:path'
import type { End, Manifest } from '../backup/format.ts'
import { checkBackup, type OpenedBackup, openBackup, restoreBackup } from '../backup/restore.ts'
import { type RestoreConfig, readRestoreConfig } from '../config/commands.ts'
import { Refusal } from '../refusal.ts'
import { openStationPlaces } from '../store/data-folder.ts'
import { openLoading } from '../store/load.ts'
import { openLedger } from '../store/open.ts'
import { sayPhotos } from './backup.ts'
import { sayEvery, sayLine } from './say.ts'
import { stopSignal } from './until-stopped.ts'

const HELP = `hooftally restore FILE [--data DIR] [--check]: puts a backup back

  --data DIR    where to: a new folder, or one in which no station was set up (data/station in the project's folder)
  --check       reads the whole file, says whether it is whole, and changes nothing

With DATABASE_URL the database there has to be empty. Nothing can be half: until the last byte of FILE is proved, the
database stays as it was. A backup of an older Hooftally is brought up to date.
`

export async function runRestore(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readRestoreConfig(args, process.env)
  const signal = stopSignal()
  try {
    const backup = await openBackup(resolve(config.file), signal)
    const end = config.check ? await checkBackup(backup) : await restoreTo(config, backup)
    sayRestored(config, { backup, end })
    return 0
  } catch (fault) {
    if (!signal.aborted) throw fault
    throw new Refusal({
      kind: 'unavailable',
      detail: 'Stopped. The database is as it was.',
      remedy: 'Run the same command again: photos that are back already are known.',
    })
  }
}

async function restoreTo(config: RestoreConfig, backup: OpenedBackup): Promise<End> {
  const places = await openStationPlaces({
    ...config,
    log: () => undefined,
  })
  try {
    const loading = await openLoading(places.url, {
      names: backup.manifest.migrations,
      ownDatabase: places.postgres !== null,
    })
    const say = sayEvery()
    const end = await restoreBackup({
      backup,
      loading,
      files: places.files,
      onPhoto: (photos) => say(() => `${photos} photos put back`),
    })
    // Forward from where the backup was, as a start would.
    await (await openLedger(places.url)).destroy()
    return end
  } finally {
    await backup.parts.return(undefined)
    await places.close()
  }
}

function sayRestored(
  { check, databaseUrl, dataFolder }: RestoreConfig,
  { backup, end }: { backup: OpenedBackup; end: End },
): void {
  const what = `${nameOf(backup.manifest)} as of ${backup.manifest.takenAt}: the database and ${sayPhotos(end)}`
  const where = databaseUrl === undefined ? resolve(dataFolder) : 'the database of DATABASE_URL'
  sayLine(check ? `${backup.path} is whole. It holds ${what}.` : `${what} are back in ${where}.`)
}

function nameOf({ station }: Manifest): string {
  return station ?? 'A station without a name'
}
