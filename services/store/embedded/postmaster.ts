/** Is a postmaster (PostgreSQL's main process) serving this cluster now? */
import { execFile } from 'node:child_process'
import { readFile, readlink, realpath, rename, rm } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { promisify } from 'node:util'

const run = promisify(execFile)

export interface Postmaster {
  readonly pid: number
  /** Null while it is only just starting. */
  readonly port: number | null
}

/**
 * The postmaster that serves this cluster now, or null. A `postmaster.pid` left behind by a crash is seen through,
 * also when its process number has gone to another program since; then it is put out of PostgreSQL's way, which
 * would take any living process of the same user for a postmaster.
 */
export async function livePostmaster(cluster: string): Promise<Postmaster | null> {
  const file = join(cluster, 'postmaster.pid')
  const text = await readFile(file, 'utf8').catch(() => '')
  const lines = text.split('\n')
  // A standalone backend (initdb, recovery by hand) writes its number as a negative one.
  const pid = Math.abs(Number.parseInt(lines[0] ?? '', 10))
  if (!Number.isInteger(pid) || pid === 0 || !isAlive(pid)) return null
  if (await servesCluster(pid, cluster)) {
    const port = Number.parseInt(lines[3] ?? '', 10)
    return { pid, port: Number.isInteger(port) ? port : null }
  }
  await removeStale(file, text)
  return null
}

/** Whether a process of that number lives, whoever's it is. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}

async function servesCluster(pid: number, cluster: string): Promise<boolean> {
  if (process.platform === 'win32') return true
  const commandLine = await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => null)
  if (commandLine === null) {
    const ps = await run('ps', ['-p', String(pid), '-o', 'command=']).catch(() => ({ stdout: '' }))
    return /\bpostgres\b/.test(ps.stdout)
  }
  // Empty for a zombie: dead, and only waiting for its parent to notice.
  if (!basename(commandLine.split('\0')[0] ?? '').startsWith('postgres')) return false
  // A postmaster works inside its data directory. Not readable when it runs as another user: then believe its name.
  const worksIn = await readlink(`/proc/${pid}/cwd`).catch(() => null)
  return worksIn === null || worksIn === (await realpath(cluster))
}

async function removeStale(file: string, judged: string): Promise<void> {
  // Renamed first: if a postmaster has written its own file meanwhile, it is put back.
  const aside = `${file}.stale-${process.pid}`
  await rename(file, aside).catch(() => undefined)
  const moved = await readFile(aside, 'utf8').catch(() => judged)
  if (moved === judged) await rm(aside, { force: true })
  else await rename(aside, file)
}
