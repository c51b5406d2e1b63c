/** PostgreSQL's main process (the postmaster): is one running in this folder, start one, stop it. */
import { type ChildProcess, execFile, spawn } from 'node:child_process'
import { open, readFile, readlink, realpath, rename, rm } from 'node:fs/promises'
import { createServer } from 'node:net'
import { basename, join } from 'node:path'
import { promisify } from 'node:util'
import type { Site } from './cluster.ts'
import { plainEnvironment, runAs } from './programs.ts'

const run = promisify(execFile)
/** A fast shutdown writes a checkpoint: seconds on a slow disk. */
const STOP_PATIENCE_SECONDS = 60

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

/** Starts a postmaster in a process group of its own; it outlives this process and doesn't keep it alive. */
export async function startPostmaster(site: Site, port: number): Promise<ChildProcess> {
  const said = await open(startLog(site), 'w', 0o600)
  try {
    const args = ['-D', site.cluster, '-p', String(port), ...settingsOf(site)]
    const child = spawn(site.programs.postgres, args, {
      ...runAs(site.account),
      cwd: site.cluster,
      env: plainEnvironment(),
      // A Ctrl-C in the terminal is for the service, which stops PostgreSQL when its own work is done.
      detached: true,
      stdio: ['ignore', said.fd, said.fd],
      windowsHide: true,
    })
    child.on('error', () => undefined)
    child.unref()
    return child
  } finally {
    await said.close()
  }
}

/** What the last start said before its log took over; empty when nothing went wrong. */
export async function startWords(site: Site): Promise<string> {
  return readFile(startLog(site), 'utf8').catch(() => '')
}

/** Fast shutdown, waited for; after a minute an immediate one, from which the next start recovers. */
export async function stopPostmaster(site: Site): Promise<void> {
  const stop = async (mode: 'fast' | 'immediate') => {
    const args = ['stop', '-D', site.cluster, '-m', mode, '-w', '-t', String(STOP_PATIENCE_SECONDS)]
    await run(site.programs.pgCtl, args, {
      ...runAs(site.account),
      env: plainEnvironment(),
      cwd: site.folder,
    })
  }
  if ((await livePostmaster(site.cluster)) === null) return
  await stop('fast').catch(async (error: unknown) => {
    if ((await livePostmaster(site.cluster)) === null) return
    await stop('immediate').catch(() => {
      throw error
    })
  })
}

/** A TCP port on the loopback address that is free at this moment. */
export async function freePort(): Promise<number> {
  const server = createServer()
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(0, '127.0.0.1', resolve)
  })
  const address = server.address()
  await new Promise((resolve) => server.close(resolve))
  if (address === null || typeof address === 'string') throw new Error('no TCP port was given')
  return address.port
}

function startLog(site: Site): string {
  return join(site.folder, 'postgres-start.log')
}

function settingsOf(site: Site): string[] {
  const settings: Readonly<Record<string, string>> = {
    listen_addresses: '127.0.0.1',
    // No socket file: its path may be too long, and it would lie in a folder open to every user.
    unix_socket_directories: '',
    fsync: site.durable ? 'on' : 'off',
    full_page_writes: site.durable ? 'on' : 'off',
    max_connections: '60',
    shared_buffers: '128MB',
    // Two cores belong to the eye, and every read is meant to be small.
    max_parallel_workers_per_gather: '0',
    timezone: 'UTC',
    log_timezone: 'UTC',
    // One log a weekday, written over a week later: bounded, whatever happens.
    logging_collector: 'on',
    log_directory: 'log',
    log_filename: 'postgres-%a.log',
    log_rotation_age: '1d',
    log_rotation_size: '0',
    log_truncate_on_rotation: 'on',
    log_checkpoints: 'off',
  }
  return Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`])
}
