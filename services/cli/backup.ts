/** `hooftally backup FILE`: database and photos in one file, while the service runs or not. */
import { access } from 'node:fs/promises'
import { resolve } from 'node:path'
import type { End } from '../backup/format.ts'
import { writeBackup } from '../backup/write.ts'
import { readBackupConfig } from '../config/commands.ts'
import { Refusal } from '../refusal.ts'
import { openStationPlaces } from '../store/data-folder.ts'
import { openSnapshot } from '../store/dump.ts'
import { refuseNewerDatabase } from '../store/known-migrations.ts'
import { migrationNames } from '../store/open.ts'
import { sayEvery, sayLine } from './say.ts'
import { stopSignal } from './until-stopped.ts'

const HELP = `hooftally backup FILE [--data DIR]: database and photos of a station in one file

It shows the station as it was when the command began, also while the service runs and photos come in. FILE is written
beside its place and put there when it is whole; a file that is there already is left alone. Whoever has FILE has the
station: keep it as you would keep the station's machine. hooftally restore FILE puts it back.
`

export async function runBackup(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readBackupConfig(args, process.env)
  const path = resolve(config.file)
  await refuseKnown(path)
  const signal = stopSignal()
  const places = await openStationPlaces({
    ...config,
    log: () => undefined,
    besideService: true,
  })
  try {
    const snapshot = await openSnapshot(places.url)
    try {
      refuseNewerDatabase(snapshot.migrations, migrationNames)
      if (snapshot.station === null) throw nothingThere(places.folder)
      const say = sayEvery()
      const end = await writeBackup({
        path,
        snapshot,
        files: places.files,
        signal,
        onPhoto: (photos) => say(() => `${photos} photos written`),
      })
      return sayBackup(end, { path, station: snapshot.station })
    } finally {
      await snapshot.close()
    }
  } catch (fault) {
    throw refusalOf(fault, { path, stopped: signal.aborted })
  } finally {
    await places.close()
  }
}

function sayBackup(end: End, { path, station }: { path: string; station: string }): number {
  sayLine(`${station} is in ${path}: the database and ${sayPhotos(end)}.`)
  if (end.gone === 0) return 0
  process.stderr.write(
    `The bytes of ${end.gone} photos are missing or damaged where the photos lie: the backup has what was counted in them, without the photos.\nLook at Health in Set-up, and at the disk.\n`,
  )
  return 1
}

export function sayPhotos({ photos, photoBytes, previews }: End): string {
  const whole = `${photos} photos (${Math.round(photoBytes / 1024 / 1024)} MB)`
  return previews === 0
    ? whole
    : `${whole}, and of ${previews} more the small picture, which is all that was kept`
}

async function refuseKnown(path: string): Promise<void> {
  const isThere = await access(path).then(
    () => true,
    () => false,
  )
  if (!isThere) return
  throw new Refusal({
    kind: 'conflict',
    detail: `${path} is there already.`,
    field: 'FILE',
    remedy: 'Choose a new name, with the day in it say.',
  })
}

function nothingThere(folder: string): Refusal {
  return new Refusal({
    kind: 'not found',
    detail: `There is no station in ${folder} to be backed up.`,
    field: '--data',
    remedy: 'Check the folder, and DATABASE_URL if it is set.',
  })
}

function refusalOf(fault: unknown, { path, stopped }: { path: string; stopped: boolean }): unknown {
  if (stopped) {
    return new Refusal({
      kind: 'unavailable',
      detail: `Stopped. There is no ${path}.`,
      remedy: 'Run the same command again for a backup as of then.',
    })
  }
  const code = fault instanceof Error && 'code' in fault ? String(fault.code) : ''
  if (['ENOSPC', 'EDQUOT', 'EFBIG'].includes(code)) {
    return new Refusal({
      kind: 'no room',
      detail: `There is no room for ${path}: the disk is full.`,
      field: 'FILE',
      remedy: 'Write it to a disk with more room; a backup takes about as much as the photos.',
    })
  }
  if (['ENOENT', 'EACCES', 'EROFS', 'ENOTDIR', 'EPERM'].includes(code)) {
    return new Refusal({
      kind: 'bad input',
      detail: `${path} could not be written (${code}).`,
      field: 'FILE',
      remedy: 'Name a folder that is there and that you may write to.',
    })
  }
  return fault
}
