/** The stills' bytes on disk, named by their SHA-256: written aside, flushed, renamed, so a file that is there is whole. */
import { randomUUID } from 'node:crypto'
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'

export interface StillFiles {
  /** Keeps the bytes; once it returns they survive a power cut. Bytes already there are left as they are. */
  keep(hash: Buffer, bytes: Buffer): Promise<void>
  /** Where the bytes of a still lie. */
  pathOf(hash: Buffer): string
  /** Where its small preview lies, once made. */
  previewPathOf(hash: Buffer): string
}

/** No photo takes that long to write: a younger one may be another process', an import's beside the service. */
const LEFT_BEHIND_MS = 3_600_000

/** Opens (and makes) the folder; what a killed service left half-written aside is cleared away. */
export async function openStillFiles(folder: string): Promise<StillFiles> {
  const aside = join(folder, 'aside')
  await mkdir(aside, { recursive: true })
  for (const name of await readdir(aside)) {
    const part = join(aside, name)
    const there = await stat(part).catch(() => null)
    if (there !== null && Date.now() - there.mtimeMs > LEFT_BEHIND_MS) await rm(part, { force: true })
  }
  const known = new Set<string>()

  const pathIn = (kind: string, hash: Buffer) => {
    const name = hash.toString('hex')
    return join(folder, kind, name.slice(0, 2), name.slice(2, 4), name)
  }

  async function makeFolder(path: string): Promise<void> {
    if (known.has(path)) return
    await mkdir(path, { recursive: true })
    // A new folder is safe only when its own name has been flushed in its parents.
    for (let parent = dirname(path); parent.length >= folder.length; parent = dirname(parent)) {
      await flushFolder(parent)
    }
    known.add(path)
  }

  return {
    pathOf: (hash) => pathIn('whole', hash),
    previewPathOf: (hash) => `${pathIn('small', hash)}.webp`,
    async keep(hash, bytes) {
      const path = pathIn('whole', hash)
      const there = await stat(path).catch(() => null)
      if (there?.size === bytes.length) return
      await makeFolder(dirname(path))
      const part = join(aside, randomUUID())
      try {
        const file = await open(part, 'wx', 0o640)
        try {
          await file.writeFile(bytes)
          await file.sync()
        } finally {
          await file.close()
        }
        await rename(part, path)
      } catch (fault) {
        await rm(part, { force: true })
        throw fault
      }
      await flushFolder(dirname(path))
    },
  }
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
