/** A small station with photos that have bytes, and what a test of backups needs around it. */
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { inject } from 'vitest'
import type { End } from '../../services/backup/format.ts'
import { openBackup, restoreBackup } from '../../services/backup/restore.ts'
import { writeBackup } from '../../services/backup/write.ts'
import { openIntakeDesk } from '../../services/intake/desk.ts'
import { takeStill } from '../../services/intake/receive-still.ts'
import { findCameraByName } from '../../services/store/cameras.ts'
import { openSnapshot, type Snapshot } from '../../services/store/dump.ts'
import { openLoading } from '../../services/store/load.ts'
import { type Ledger, openLedger } from '../../services/store/open.ts'
import type { StillFiles } from '../../services/store/still-files.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import type { Instant } from '../../services/words.ts'
import { freshDatabase } from './fresh-database.ts'
import { openSmallStation, record, type SmallStation } from './small-station.ts'

const FIRST_PHOTO_AT = Date.UTC(2026, 9, 1, 10)
const never = new AbortController().signal

export interface BackupStation extends SmallStation {
  readonly url: string
  /** For backups and whatever else a test writes. */
  readonly folder: string
  readonly files: StillFiles
  /** Takes photo number `i` in and records a finding of it; resolves to its content hash once it is acknowledged. */
  send(i: number): Promise<string>
  /** A backup as of now. */
  backUp(name: string, change?: (snapshot: Snapshot) => Snapshot): Promise<{ path: string; end: End }>
}

export async function openBackupStation(): Promise<BackupStation> {
  const small = await openSmallStation()
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-backup-'))
  const files = await openStillFolder(join(folder, 'stills'))
  const desk = openIntakeDesk(small.ledger)
  const camera = await findCameraByName(small.ledger, 'first')
  const url = await urlOf(small.ledger)
  return {
    ...small,
    url,
    folder,
    files,
    async send(i) {
      const bytes = await madePhoto(i)
      const still = await takeStill(
        { desk, files, onReceived: () => undefined },
        {
          camera,
          bytes,
          fileName: `photo-${i}.jpg`,
          fileTime: null,
          senderAt: (FIRST_PHOTO_AT + i * 600_000) as Instant,
          arrivedAt: (FIRST_PHOTO_AT + i * 600_000 + 5_000) as Instant,
        },
      )
      if (i % 4 !== 3) await record(small, still.id, i % 2 === 0 ? { cattle: 1 + (i % 3) } : { camel: 2 })
      const row = await small.ledger
        .selectFrom('stills')
        .select('hash')
        .where('id', '=', still.id)
        .executeTakeFirstOrThrow()
      return row.hash.toString('hex')
    },
    async backUp(name, change = (snapshot) => snapshot) {
      const path = join(folder, name)
      const snapshot = await openSnapshot(url)
      try {
        return { path, end: await writeBackup({ path, snapshot: change(snapshot), files, signal: never }) }
      } finally {
        await snapshot.close()
      }
    },
    async close() {
      await small.close()
      await rm(folder, { recursive: true, force: true })
    },
  }
}

export interface RestoredStation {
  readonly ledger: Ledger
  readonly files: StillFiles
  readonly end: End
  close(): Promise<void>
}

/** Puts a backup back into an empty database and a new folder. */
export async function restoreElsewhere(path: string): Promise<RestoredStation> {
  const database = await freshDatabase()
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-restored-'))
  const clear = async () => {
    await database.drop()
    await rm(folder, { recursive: true, force: true })
  }
  try {
    const files = await openStillFolder(join(folder, 'stills'))
    const end = await restoreInto(path, { url: database.url, files })
    const ledger = await openLedger(database.url)
    return {
      ledger,
      files,
      end,
      async close() {
        await ledger.destroy()
        await clear()
      },
    }
  } catch (fault) {
    await clear()
    throw fault
  }
}

export async function restoreInto(
  path: string,
  { url, files }: { readonly url: string; readonly files: StillFiles },
): Promise<End> {
  const backup = await openBackup(path, never)
  try {
    const loading = await openLoading(url, { names: backup.manifest.migrations, ownDatabase: false })
    return await restoreBackup({ backup, loading, files })
  } finally {
    await backup.parts.return(undefined)
  }
}

async function urlOf(ledger: Ledger): Promise<string> {
  const { rows } = await ledger.executeQuery<{ name: string }>({
    ...ledger.selectNoFrom((e) => e.fn<string>('current_database').as('name')).compile(),
  })
  const url = new URL(inject('postgresUrl'))
  url.pathname = `/${rows[0]!.name}`
  return url.href
}

/** A photo like no other: its number is in its colours. */
function madePhoto(i: number): Promise<Buffer> {
  return sharp({
    create: { width: 160, height: 90, channels: 3, background: { r: i % 256, g: (i * 7) % 256, b: 120 } },
  })
    .composite([
      {
        input: Buffer.from(
          `<svg width="160" height="90"><rect x="${(i * 13) % 100}" y="${i % 50}" width="40" height="30" fill="#${String(100000 + ((i * 7919) % 899999))}"/></svg>`,
        ),
      },
    ])
    .jpeg({ quality: 90 })
    .toBuffer()
}
