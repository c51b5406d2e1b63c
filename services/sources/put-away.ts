/** What becomes of a file of a drop folder once it is done with. */
import { link, mkdir, rename, unlink } from 'node:fs/promises'
import { dirname, join, parse } from 'node:path'
import { staysInside } from './drop-roots.ts'

const MOST_NAMES = 1_000

/**
 * Moves a file within its folder, under another name where that one is taken: nothing there is written over.
 * @returns its new path within the folder
 * @throws Error of the file system, or where the way leads out of the folder
 */
export async function moveWithin(
  folder: string,
  { path, under }: { readonly path: string; readonly under: string },
): Promise<string> {
  const wanted = join(under, path)
  await mkdir(join(folder, dirname(wanted)), { recursive: true })
  if (!(await staysInside(folder, join(folder, dirname(wanted)))))
    throw new Error(`${dirname(wanted)} leads out of the folder`)
  for (let i = 1; i <= MOST_NAMES; i += 1) {
    const to = i === 1 ? wanted : numbered(wanted, i)
    if (await moved(join(folder, path), join(folder, to))) return to
  }
  throw new Error(`${wanted} and ${MOST_NAMES} other names are taken`)
}

export async function removeWithin(folder: string, path: string): Promise<void> {
  if (!(await staysInside(folder, join(folder, dirname(path)))))
    throw new Error(`${path} leads out of the folder`)
  await unlink(join(folder, path))
}

/** A link under the new name fails where that is taken, which a rename would not; some file systems have no links. */
async function moved(from: string, to: string): Promise<boolean> {
  try {
    await link(from, to)
    await unlink(from)
    return true
  } catch (fault) {
    const code = fault instanceof Error && 'code' in fault ? String(fault.code) : ''
    if (code === 'EEXIST') return false
    if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK'].includes(code)) throw fault
  }
  await rename(from, to)
  return true
}

function numbered(path: string, number: number): string {
  const { dir, name, ext } = parse(path)
  return join(dir, `${name} (${number})${ext}`)
}
