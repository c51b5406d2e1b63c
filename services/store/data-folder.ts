/** Opens everything a station keeps: the database (embedded, or the one at DATABASE_URL) and the stills' bytes. */
import { mkdir } from 'node:fs/promises'
import { join, resolve } from 'node:path'
import { Refusal } from '../refusal.ts'
import { type DiskRoom, openDiskRoom, withReserve } from './disk-room.ts'
import { type EmbeddedPostgres, openEmbeddedPostgres } from './embedded/open.ts'
import { runningDatabaseUrl } from './embedded/running.ts'
import { type Ledger, openLedger } from './open.ts'
import { type BucketPlace, bucketInWords, type StillFiles } from './still-files.ts'
import { openStillFolder } from './still-folder.ts'
import { confirmPlace } from './still-place.ts'

/** Where a station's data are, with the database running and its tables left as they are. */
export interface StationPlaces {
  readonly folder: string
  readonly url: string
  readonly files: StillFiles
  /** Where photos lie, in words that tell one place from another. */
  readonly place: string
  readonly room: DiskRoom
  /** Null where the database is somebody else's: DATABASE_URL, or a running service's. */
  readonly postgres: EmbeddedPostgres | null
  close(): Promise<void>
}

export interface StationData extends StationPlaces {
  readonly ledger: Ledger
}

export interface OpenOptions {
  readonly dataFolder: string
  readonly databaseUrl: string | undefined
  /** Where the photos lie; absent: in the folder. */
  readonly stillBucket?: BucketPlace | undefined
  /** A folder elsewhere, which workers may be given too. */
  readonly stillFolder?: string | undefined
  /** Free room under which no photo is taken; absent: the usual reserve. */
  readonly diskReserveBytes?: number | undefined
  readonly log: (line: string) => void
  /** A command that may work beside a running service uses its database; a service must own the folder alone. */
  readonly besideService?: boolean
}

export async function openStationData(options: OpenOptions): Promise<StationData> {
  const places = await openStationPlaces(options)
  try {
    const ledger = await openLedger(places.url)
    await confirmPlace(ledger, places.files, places.place).catch(async (fault: unknown) => {
      await ledger.destroy()
      throw fault
    })
    return {
      ...places,
      ledger,
      async close() {
        await ledger.destroy()
        await places.close()
      },
    }
  } catch (fault) {
    await places.close()
    throw fault
  }
}

export async function openStationPlaces(options: OpenOptions): Promise<StationPlaces> {
  const folder = resolve(options.dataFolder)
  const postgres = options.databaseUrl === undefined ? await ownPostgres(folder, options) : null
  const url = options.databaseUrl ?? postgres?.url ?? (await runningDatabaseUrl(folder))
  if (url === null) {
    throw new Refusal({
      kind: 'unavailable',
      detail: `The database in ${folder} was being stopped.`,
      field: '--data',
      remedy: 'Try again in a moment.',
    })
  }
  try {
    const room = await openRoom(folder, options)
    const files = withReserve(await openStills(folder, options), room)
    return {
      folder,
      url,
      files,
      place: placeOfStills(options),
      room,
      postgres,
      async close() {
        files.close()
        await postgres?.stop()
      },
    }
  } catch (fault) {
    await postgres?.stop()
    throw fault
  }
}

/** Of the disk of the photos and of that of the database, as far as they are ours to fill. */
async function openRoom(folder: string, options: OpenOptions): Promise<DiskRoom> {
  const { stillBucket, stillFolder, databaseUrl, diskReserveBytes } = options
  const stills = stillBucket === undefined ? [stillFolder ?? folder] : []
  const own = databaseUrl === undefined ? [folder, ...stills] : stills
  for (const path of [folder, ...own]) await mkdir(path, { recursive: true })
  return own.length > 0 ? openDiskRoom(own, diskReserveBytes) : openDiskRoom([folder], 0)
}

function placeOfStills({ stillBucket, stillFolder }: OpenOptions): string {
  if (stillBucket !== undefined) return bucketInWords(stillBucket)
  return stillFolder === undefined ? 'the data folder' : resolve(stillFolder)
}

async function openStills(folder: string, { stillBucket, stillFolder }: OpenOptions): Promise<StillFiles> {
  if (stillBucket === undefined) return await openStillFolder(stillFolder ?? join(folder, 'stills'))
  // Loaded when asked for: most stations never need it, and it is large.
  const { openStillBucket } = await import('./still-bucket.ts')
  return openStillBucket(stillBucket)
}

async function ownPostgres(
  folder: string,
  { log, besideService }: OpenOptions,
): Promise<EmbeddedPostgres | null> {
  try {
    return await openEmbeddedPostgres({ folder, log })
  } catch (fault) {
    if (besideService && fault instanceof Refusal && fault.kind === 'conflict') return null
    throw fault
  }
}
