/** What lies in a drop folder, folders within it included; links are never followed. */
import { lstat, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import type { Instant } from '../words.ts'
import { ASIDE_FOLDER, TAKEN_FOLDER } from './drop-roots.ts'

export interface FileStamp {
  /** Within the folder. */
  readonly path: string
  readonly bytes: number
  /** In whole milliseconds. */
  readonly modifiedAt: Instant
}

/** More are not listed: each costs a question to the file system at every look. */
export const MOST_FILES = 50_000
const MOST_DEPTH = 8

/**
 * Files in the order of their names, those set aside apart. Names that begin with a dot are left alone: senders write
 * under such a name what is not whole yet.
 */
export async function listDropped(folder: string): Promise<{
  readonly files: readonly FileStamp[]
  readonly aside: readonly FileStamp[]
  /** False where there are more than MOST_FILES. */
  readonly isAll: boolean
}> {
  const files: FileStamp[] = []
  await listInto(files, { folder, within: '', depth: 0 })
  const aside = files.filter(({ path }) => path.startsWith(`${ASIDE_FOLDER}/`))
  return {
    files: files.filter(({ path }) => !path.startsWith(`${ASIDE_FOLDER}/`)),
    aside,
    isAll: files.length < MOST_FILES,
  }
}

async function listInto(
  files: FileStamp[],
  { folder, within, depth }: { readonly folder: string; readonly within: string; readonly depth: number },
): Promise<void> {
  const entries = await readdir(join(folder, within), { withFileTypes: true })
  entries.sort((a, b) => (a.name < b.name ? -1 : 1))
  for (const entry of entries) {
    if (files.length >= MOST_FILES) return
    if (entry.name.startsWith('.')) continue
    const path = within === '' ? entry.name : join(within, entry.name)
    if (entry.isDirectory() && path !== TAKEN_FOLDER && depth < MOST_DEPTH) {
      await listInto(files, { folder, within: path, depth: depth + 1 }).catch(ignoreGone)
    } else if (entry.isFile()) {
      const stamp = await stampOf(folder, path)
      if (stamp !== null) files.push(stamp)
    }
  }
}

/** Null where it is gone, or no plain file any more. */
export async function stampOf(folder: string, path: string): Promise<FileStamp | null> {
  try {
    const info = await lstat(join(folder, path))
    if (!info.isFile()) return null
    return { path, bytes: info.size, modifiedAt: Math.round(info.mtimeMs) as Instant }
  } catch (fault) {
    ignoreGone(fault)
    return null
  }
}

export function isSame(a: FileStamp | undefined, b: FileStamp): boolean {
  return a !== undefined && a.bytes === b.bytes && a.modifiedAt === b.modifiedAt
}

/** Between a list and a look a file may be taken away by whoever put it there. */
export function ignoreGone(fault: unknown): void {
  const code = fault instanceof Error && 'code' in fault ? fault.code : ''
  if (code !== 'ENOENT' && code !== 'ENOTDIR') throw fault
}
