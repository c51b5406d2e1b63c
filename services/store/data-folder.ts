/** Opens everything a station keeps: the database (embedded, or the one at DATABASE_URL) and the stills' bytes. */
import { join, resolve } from 'node:path'
import { Refusal } from '../refusal.ts'
import { type EmbeddedPostgres, openEmbeddedPostgres } from './embedded/open.ts'
import { runningDatabaseUrl } from './embedded/running.ts'
import { type Ledger, openLedger } from './open.ts'
import type { BucketPlace } from './still-bucket.ts'
import type { StillFiles } from './still-files.ts'
import { openStillFolder } from './still-folder.ts'

export interface StationData {
  readonly folder: string
  readonly url: string
  readonly ledger: Ledger
  readonly files: StillFiles
  /** Null where the database is somebody else's: DATABASE_URL, or a running service's. */
  readonly postgres: EmbeddedPostgres | null
  close(): Promise<void>
}

export interface OpenOptions {
  readonly folder: string
  readonly databaseUrl: string | undefined
  /** Where the photos lie; absent: in the folder. */
  readonly stillBucket?: BucketPlace | undefined
  /** A folder elsewhere, which workers may be given too. */
  readonly stillFolder?: string | undefined
  readonly log: (line: string) => void
  /** A command that may work beside a running service uses its database; a service must own the folder alone. */
  readonly besideService?: boolean
}

export async function openStationData(options: OpenOptions): Promise<StationData> {
  const folder = resolve(options.folder)
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
    const files = await openStills(folder, options)
    const ledger = await openLedger(url)
    return {
      folder,
      url,
      ledger,
      files,
      postgres,
      async close() {
        await ledger.destroy()
        files.close()
        await postgres?.stop()
      },
    }
  } catch (fault) {
    await postgres?.stop()
    throw fault
  }
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
