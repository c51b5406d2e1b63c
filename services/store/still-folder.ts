/** The stills' bytes on disk: written aside, flushed, renamed, so a file that is there is whole. */
import { randomUUID } from 'node:crypto'
import { access, constants, mkdir, open, readdir, readFile, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { Refusal } from '../refusal.ts'
import { bytesGone, isWhole, placeOf, type StillFiles } from './still-files.ts'

/** No photo takes that long to write: a younger one may be another process', an import's beside the service. */
const LEFT_BEHIND_MS = 3_600_000

/** Opens (and makes) the folder; what a killed service left half-written aside is cleared away. */
export async function openStillFolder(folder: string): Promise<StillFiles> {
  const aside = join(folder, 'aside')
  await mkdir(aside, { recursive: true })
  for (const name of await readdir(aside)) {
    const part = join(aside, name)
    const there = await stat(part).catch(() => null)
    if (there !== null && Date.now() - there.mtimeMs > LEFT_BEHIND_MS) await rm(part, { force: true })
  }
  const known = new Set<string>()
  const pathOf = (size: 'whole' | 'small', hash: Buffer) => join(folder, placeOf(size, hash))

  async function makeFolder(path: string): Promise<void> {
    if (known.has(path)) return
    await mkdir(path, { recursive: true })
    // A new folder is safe only when its own name has been flushed in its parents.
    for (let parent = dirname(path); parent.length >= folder.length; parent = dirname(parent)) {
      await flushFolder(parent)
    }
    known.add(path)
  }

  async function write(path: string, bytes: Buffer): Promise<void> {
    const part = join(aside, randomUUID())
    try {
      await makeFolder(dirname(path))
      const file = await open(part, 'wx', 0o640)
      try {
        await file.writeFile(bytes)
        await file.sync()
      } finally {
        await file.close()
      }
      await rename(part, path)
      await flushFolder(dirname(path))
    } catch (fault) {
      await rm(part, { force: true })
      throw noRoomFor(fault) ?? fault
    }
  }

  async function remove(path: string): Promise<void> {
    await rm(path, { force: true })
    await flushFolder(dirname(path)).catch(ifMissing)
  }

  return {
    kind: 'folder',
    async keep(hash, bytes) {
      const path = pathOf('whole', hash)
      const there = await readFile(path).catch(ifMissing)
      // A file that a failing disk has changed is put right by whoever sends the photo again.
      if (there === null || !isWhole(hash, there)) await write(path, bytes)
    },
    async read(hash) {
      const bytes = await readFile(pathOf('whole', hash)).catch(ifMissing)
      return bytes !== null && isWhole(hash, bytes) ? bytes : null
    },
    async sourceOf(hash) {
      const file = pathOf('whole', hash)
      if ((await stat(file).catch(ifMissing)) === null) throw bytesGone(hash)
      return { file }
    },
    linkOf: async () => null,
    keepSmall: (hash, bytes) => write(pathOf('small', hash), bytes),
    async readSmall(hash) {
      const bytes = await readFile(pathOf('small', hash)).catch(ifMissing)
      // Earlier versions did not flush previews: a power cut could leave an empty one.
      return bytes === null || bytes.length === 0 ? null : bytes
    },
    dropWhole: (hash) => remove(pathOf('whole', hash)),
    async drop(hash) {
      await remove(pathOf('whole', hash))
      await remove(pathOf('small', hash))
    },
    async health() {
      try {
        await access(aside, constants.W_OK)
        return { ok: true, detail: 'in the data folder' }
      } catch (fault) {
        return { ok: false, detail: fault instanceof Error ? fault.message : String(fault) }
      }
    },
    close: () => undefined,
  }
}

function ifMissing(fault: unknown): null {
  if (codeOf(fault) === 'ENOENT') return null
  throw fault
}

function codeOf(fault: unknown): string {
  return fault instanceof Error && 'code' in fault ? String(fault.code) : ''
}

/** A full disk, or a full quota, as words for the sender; null where the fault is another. */
function noRoomFor(fault: unknown): Refusal | null {
  if (!['ENOSPC', 'EDQUOT'].includes(codeOf(fault))) return null
  return new Refusal({
    kind: 'no room',
    detail: 'The disk of the service is full; this photo was not taken.',
    remedy: 'Free room on the disk of the data folder, then send it again: what was taken before is safe.',
  })
}

async function flushFolder(path: string): Promise<void> {
  // Windows cannot open a folder; its file system journals the rename itself.
  if (process.platform === 'win32') return
  const folder = await open(path, 'r')
  try {
    await folder.sync()
  } finally {
    await folder.close()
  }
}
