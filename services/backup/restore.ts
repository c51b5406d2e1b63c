/** Puts a backup back: its rows in one transaction that ends only when all of the file was proved, and its photos. */
import { once } from 'node:events'
import type { Writable } from 'node:stream'
import { finished } from 'node:stream/promises'
import { Refusal } from '../refusal.ts'
import { unknownMigrations } from '../store/known-migrations.ts'
import type { Loading } from '../store/load.ts'
import { migrationNames } from '../store/open.ts'
import type { StillFiles } from '../store/still-files.ts'
import { damaged, type End, type Manifest, noBackup } from './format.ts'
import { type Part, readBackup } from './read.ts'

export interface OpenedBackup {
  readonly path: string
  readonly manifest: Manifest
  /** What follows the manifest. */
  readonly parts: AsyncGenerator<Part>
}

/** Reads as far as the manifest. @throws Refusal for what is no backup, or a newer Hooftally's. */
export async function openBackup(path: string, signal: AbortSignal): Promise<OpenedBackup> {
  const parts = readBackup(path, signal)
  const { value: first } = await parts.next()
  if (first?.kind !== 'manifest') throw noBackup(path)
  const unknown = unknownMigrations(first.manifest.migrations, migrationNames)
  if (unknown.length > 0) {
    await parts.return(undefined)
    throw new Refusal({
      kind: 'conflict',
      detail: `${path} was written by a newer Hooftally (${first.manifest.program}): its database has ${unknown.join(', ')}, and this one knows up to ${migrationNames.at(-1)}.`,
      field: 'FILE',
      remedy: 'Restore it with that Hooftally, or a newer one. Nothing was changed.',
    })
  }
  return { path, manifest: first.manifest, parts }
}

/** Reads the whole backup and proves it, changing nothing. */
export async function checkBackup({ path, parts }: OpenedBackup): Promise<End> {
  for await (const part of parts) if (part.kind === 'end') return part.end
  throw damaged(path, 'it was cut short')
}

export interface RestoreRun {
  readonly backup: OpenedBackup
  readonly loading: Loading
  readonly files: Pick<StillFiles, 'keep' | 'keepSmall'>
  readonly onPhoto?: (photos: number) => void
}

/**
 * Rows are seen by nobody before the end; photos lie under their hashes, where a second try finds them again.
 * @throws Refusal when the file is damaged; then the database is as it was.
 */
export async function restoreBackup({ backup, loading, files, onPhoto }: RestoreRun): Promise<End> {
  const rows = rowsInto(loading, backup)
  let photos = 0
  try {
    for await (const part of backup.parts) {
      if (part.kind === 'rows') await rows.take(part)
      else await rows.done()
      if (part.kind === 'photo') {
        await files.keep(part.hash, part.bytes)
        photos += 1
        onPhoto?.(photos)
      }
      if (part.kind === 'preview') await files.keepSmall(part.hash, part.bytes)
      if (part.kind === 'end') {
        await loading.commit(backup.manifest.sequences)
        return part.end
      }
    }
    throw damaged(backup.path, 'it was cut short')
  } catch (fault) {
    await loading.rollback()
    throw fault
  }
}

/** Streams the parts of one table after the other into the database. */
function rowsInto(loading: Loading, { manifest, path }: OpenedBackup) {
  let open: { readonly table: string; readonly into: Writable; readonly over: Promise<void> } | null = null
  const loaded = new Set<string>()

  function start(table: string) {
    const dumped = manifest.tables.find(({ name }) => name === table)
    const there = loading.tables.find(({ name }) => name === table)
    if (dumped === undefined || loaded.has(table))
      throw damaged(path, `the rows of ${table} are out of place`)
    if (there === undefined || dumped.columns.some((column) => !there.columns.includes(column))) {
      throw damaged(path, `${table} is not as its migrations make it`)
    }
    loaded.add(table)
    const into = loading.rows(dumped)
    const over = finished(into)
    over.catch(() => undefined)
    return { table, into, over }
  }

  async function done(): Promise<void> {
    const last = open
    open = null
    if (last === null) return
    last.into.end()
    await last.over
  }

  return {
    async take({ table, bytes }: { readonly table: string; readonly bytes: Buffer }): Promise<void> {
      if (open?.table !== table) {
        await done()
        open = start(table)
      }
      const { into, over } = open
      if (!into.write(bytes)) await Promise.race([once(into, 'drain'), over])
    },
    done,
  }
}
