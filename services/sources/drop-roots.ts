/** Which folders of this machine may be read at all: those under the roots that the operator named at the start. */
import { lstat, realpath } from 'node:fs/promises'
import { isAbsolute, resolve, sep } from 'node:path'
import { Refusal } from '../refusal.ts'

const FIELD = 'settings.folder'

/**
 * The folder's real path. One that is not absolute lies under the first root.
 * @throws Refusal where there is no root, no such folder, or it lies (or leads by a link) outside of every root
 */
export async function folderWithin(roots: readonly string[], folder: string): Promise<string> {
  const [first] = roots
  if (first === undefined) {
    throw new Refusal({
      kind: 'forbidden',
      detail: 'The service was started without leave to read any folder.',
      field: FIELD,
      remedy:
        'Start it with --drop-root DIR (or HOOFTALLY_DROP_ROOTS), the folder under which drop folders lie.',
    })
  }
  const named = isAbsolute(folder) ? resolve(folder) : resolve(first, folder)
  const real = await realFolder(named)
  const realRoots = await Promise.all(roots.map((root) => realpath(root).catch(() => null)))
  if (realRoots.some((root) => root !== null && isInside(root, real))) return real
  throw new Refusal({
    kind: 'forbidden',
    detail: `${folder} lies outside of the folders that the service may read, or leads out of them.`,
    field: FIELD,
    remedy: `Use a folder under ${roots.join(' or ')}, or start the service with another --drop-root.`,
  })
}

export function isInside(folder: string, path: string): boolean {
  return path === folder || path.startsWith(folder.endsWith(sep) ? folder : folder + sep)
}

/** True where the path itself, with every link on the way followed, lies in the folder (a real path). */
export async function staysInside(folder: string, path: string): Promise<boolean> {
  const real = await realpath(path).catch(() => null)
  return real !== null && isInside(folder, real)
}

async function realFolder(named: string): Promise<string> {
  try {
    const real = await realpath(named)
    if ((await lstat(real)).isDirectory()) return real
  } catch (fault) {
    const code = fault instanceof Error && 'code' in fault ? String(fault.code) : ''
    if (!['ENOENT', 'ENOTDIR', 'EACCES', 'ELOOP', 'EPERM', 'ENAMETOOLONG'].includes(code)) throw fault
    const why = code === 'ENOENT' || code === 'ENOTDIR' ? 'is not there' : `cannot be opened (${code})`
    throw noFolder(named, why)
  }
  throw noFolder(named, 'is no folder')
}

function noFolder(named: string, why: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `The folder ${named} ${why}.`,
    field: FIELD,
    remedy: 'Make the folder, and let the user that the service runs as read and change it.',
  })
}

/** Where in a drop folder files go that are done with. */
export const TAKEN_FOLDER = 'taken'
export const ASIDE_FOLDER = 'set aside'
