/** Writes a backup while the station goes on: rows as of one instant, then the bytes of every photo they name. */
import { randomUUID } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { open, rename, rm } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { pipeline } from 'node:stream/promises'
import { pack as startTar } from 'tar-stream'
import type { Snapshot } from '../store/dump.ts'
import type { StillFiles } from '../store/still-files.ts'
import { version } from '../version.ts'
import {
  END,
  type End,
  FORMAT_VERSION,
  MANIFEST,
  type Manifest,
  photoName,
  previewName,
  ROWS_PART_BYTES,
  rowsName,
  sha256Of,
  startSum,
} from './format.ts'

export interface BackupRun {
  readonly path: string
  readonly snapshot: Snapshot
  readonly files: Pick<StillFiles, 'read' | 'readSmall'>
  /** Aborted: nothing is left of the file. */
  readonly signal: AbortSignal
  readonly onPhoto?: (photos: number) => void
}

/** Writes aside, flushes and renames, so that a file of that name is whole. Returns what is in it. */
export async function writeBackup(run: BackupRun): Promise<End> {
  const aside = join(dirname(run.path), `.${basename(run.path)}.${randomUUID()}.part`)
  // It holds photos and the hashes of keys: for its owner only.
  const out = createWriteStream(aside, { flags: 'wx', mode: 0o600 })
  try {
    const tar = openTar(out, { at: run.snapshot.takenAt, signal: run.signal })
    const end = await writeParts(run, tar)
    await tar.finish()
    await flush(aside)
    await rename(aside, run.path)
    await flush(dirname(run.path))
    return end
  } catch (fault) {
    out.destroy()
    await rm(aside, { force: true })
    throw fault
  }
}

async function writeParts({ snapshot, files, onPhoto }: BackupRun, tar: Tar): Promise<End> {
  const { takenAt, station, migrations, tables, sequences } = snapshot
  const manifest: Manifest = {
    format: 'hooftally backup',
    formatVersion: FORMAT_VERSION,
    program: version,
    takenAt: takenAt.toISOString(),
    station,
    migrations: [...migrations],
    tables: tables.map(({ name, columns }) => ({ name, columns: [...columns] })),
    sequences: sequences.map((one) => ({ ...one })),
  }
  const manifestBytes = Buffer.from(`${JSON.stringify(manifest, null, 1)}\n`)
  const sum = startSum(manifestBytes)
  const add = async (name: string, bytes: Uint8Array) => {
    sum.add(name)
    await tar.add(name, bytes)
  }
  await tar.add(MANIFEST, manifestBytes)
  for (const table of tables) {
    let part = 0
    for await (const bytes of inParts(snapshot.rows(table))) {
      part += 1
      await add(rowsName(table.name, part, sha256Of(bytes)), bytes)
    }
  }
  const counts = { photos: 0, photoBytes: 0, previews: 0, gone: 0 }
  for await (const { hash, kept } of snapshot.photos()) {
    if (kept === 'none') continue
    const photo = hash.toString('hex')
    const bytes = kept === 'whole' ? await files.read(hash) : null
    if (bytes !== null) {
      await add(photoName(photo), bytes)
      counts.photos += 1
      counts.photoBytes += bytes.length
      onPhoto?.(counts.photos)
      continue
    }
    const small = await files.readSmall(hash)
    if (small !== null) {
      await add(previewName(photo, sha256Of(small)), small)
      counts.previews += 1
    }
    if (kept === 'whole' || small === null) counts.gone += 1
  }
  const end: End = { ...counts, ...sum.end() }
  await tar.add(END, Buffer.from(`${JSON.stringify(end)}\n`))
  return end
}

/** A stream cut into parts of about ROWS_PART_BYTES. */
async function* inParts(rows: AsyncIterable<unknown>): AsyncGenerator<Buffer> {
  let held: Buffer[] = []
  let size = 0
  for await (const chunk of rows) {
    held.push(chunk as Buffer)
    size += (chunk as Buffer).length
    if (size < ROWS_PART_BYTES) continue
    yield Buffer.concat(held)
    held = []
    size = 0
  }
  if (size > 0) yield Buffer.concat(held)
}

interface Tar {
  /** Resolves when there is room for more. */
  add(name: string, bytes: Uint8Array): Promise<void>
  finish(): Promise<void>
}

function openTar(
  out: NodeJS.WritableStream,
  { at, signal }: { readonly at: Date; readonly signal: AbortSignal },
): Tar {
  const pack = startTar()
  let failure: unknown = null
  let tell: ((fault: unknown) => void) | null = null
  const written = pipeline(pack, out, { signal }).catch((fault: unknown) => {
    // A full disk is met between two parts or within one, whose own word then never comes.
    failure = fault
    tell?.(fault)
    throw fault
  })
  written.catch(() => undefined)
  return {
    add: (name, bytes) =>
      new Promise((resolve, reject) => {
        if (failure !== null) return reject(failure)
        tell = reject
        const entry = pack.entry({ name, size: bytes.length, mtime: at, mode: 0o600 }, (fault) =>
          fault ? reject(fault) : resolve(),
        )
        // The part in hand says it too; the first word ends the backup.
        entry.on('error', reject)
        entry.end(bytes)
      }),
    async finish() {
      pack.finalize()
      await written
    },
  }
}

async function flush(path: string): Promise<void> {
  // Windows cannot open a folder; its file system journals the rename itself.
  if (process.platform === 'win32') return
  const file = await open(path, 'r')
  try {
    await file.sync()
  } finally {
    await file.close()
  }
}
