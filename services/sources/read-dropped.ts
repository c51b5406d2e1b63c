/** Reads one file of a drop folder: itself and whole, or not at all. */
import { constants } from 'node:fs'
import { type FileHandle, open, realpath, stat } from 'node:fs/promises'
import { join } from 'node:path'
import type { Instant } from '../words.ts'
import { isInside } from './drop-roots.ts'
import { type FileStamp, ignoreGone, isSame } from './list-dropped.ts'

/** Never through a link, and never waiting for the other end of a pipe. */
const FLAGS = constants.O_RDONLY | constants.O_NOFOLLOW | constants.O_NONBLOCK

export type ReadFile =
  | { readonly kind: 'bytes'; readonly bytes: Buffer }
  /** It is being written, or gone: the next list tells. */
  | { readonly kind: 'changing' }
  | { readonly kind: 'closed'; readonly reason: string }

/** @param folder a real path */
export async function readDropped(folder: string, file: FileStamp, mostBytes: number): Promise<ReadFile> {
  if (file.bytes > mostBytes) {
    const megabytes = (bytes: number) => Math.round((bytes / 1024 / 1024) * 10) / 10
    return closed(`${megabytes(file.bytes)} MB, over the limit of ${megabytes(mostBytes)} MB`)
  }
  const path = join(folder, file.path)
  let handle: FileHandle
  try {
    handle = await open(path, FLAGS)
  } catch (fault) {
    return whyNotOpen(fault)
  }
  try {
    if (!(await isThatFile(handle, { folder, path }))) return closed('it leads out of its folder')
    if (!isSame(await stampOfOpen(handle, file.path), file)) return { kind: 'changing' }
    const bytes = Buffer.alloc(file.bytes)
    let at = 0
    while (at < bytes.length) {
      const { bytesRead } = await handle.read(bytes, at, bytes.length - at, at)
      if (bytesRead === 0) return { kind: 'changing' }
      at += bytesRead
    }
    return isSame(await stampOfOpen(handle, file.path), file)
      ? { kind: 'bytes', bytes }
      : { kind: 'changing' }
  } finally {
    await handle.close()
  }
}

/** What was opened is what lies at the path with every link on the way followed, and that is in the folder. */
async function isThatFile(
  handle: FileHandle,
  { folder, path }: { readonly folder: string; readonly path: string },
): Promise<boolean> {
  const opened = await handle.stat()
  const real = await realpath(path).catch(() => null)
  if (real === null || !isInside(folder, real) || !opened.isFile()) return false
  const lies = await stat(real).catch(() => null)
  return lies !== null && lies.ino === opened.ino && lies.dev === opened.dev
}

async function stampOfOpen(handle: FileHandle, path: string): Promise<FileStamp> {
  const info = await handle.stat()
  return { path, bytes: info.size, modifiedAt: Math.round(info.mtimeMs) as Instant }
}

function closed(reason: string): ReadFile {
  return { kind: 'closed', reason }
}

function whyNotOpen(fault: unknown): ReadFile {
  const code = fault instanceof Error && 'code' in fault ? String(fault.code) : ''
  if (code === 'EACCES' || code === 'EPERM') return closed('the service may not read it (its permissions)')
  if (code === 'ELOOP') return closed('it is a link to somewhere else')
  ignoreGone(fault)
  return { kind: 'changing' }
}
