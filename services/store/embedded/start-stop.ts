/** Starts and stops PostgreSQL's main process, the postmaster, and sets how it runs. */
import { type ChildProcess, execFile, spawn } from 'node:child_process'
import { open, readdir, readFile, stat } from 'node:fs/promises'
import { createServer } from 'node:net'
import { join } from 'node:path'
import { promisify } from 'node:util'
import type { Site } from './cluster.ts'
import { livePostmaster } from './postmaster.ts'
import { plainEnvironment, runAs } from './programs.ts'

const run = promisify(execFile)
/** A fast shutdown writes a checkpoint: seconds on a slow disk. A service has ten for all of its stop. */
const STOP_PATIENCE_SECONDS = 4
const LOG_FOLDER = 'log'
const LAST_LINES = 8

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

/** What the last start said: before its own log took over, or the end of that log. */
export async function startWords(site: Site): Promise<string> {
  const first = await readFile(startLog(site), 'utf8').catch(() => '')
  if (!first.includes('redirecting log output')) return first
  const logs = (await readdir(join(site.cluster, LOG_FOLDER))).map((name) =>
    join(site.cluster, LOG_FOLDER, name),
  )
  const aged = await Promise.all(logs.map(async (path) => ({ path, at: (await stat(path)).mtimeMs })))
  const newest = aged.sort((a, b) => b.at - a.at)[0]
  if (newest === undefined) return ''
  return (await readFile(newest.path, 'utf8')).split('\n').slice(-LAST_LINES).join('\n')
}

/** Fast shutdown, waited for; after four seconds an immediate one, from which the next start recovers. */
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
    // Half the usual: what a crash must read again, and what the log takes on a small disk.
    max_wal_size: '512MB',
    // Two cores belong to the eye, and every read is meant to be small.
    max_parallel_workers_per_gather: '0',
    timezone: 'UTC',
    log_timezone: 'UTC',
    // One log a weekday, written over a week later: bounded, whatever happens.
    logging_collector: 'on',
    log_directory: LOG_FOLDER,
    log_filename: 'postgres-%a.log',
    log_rotation_age: '1d',
    log_rotation_size: '0',
    log_truncate_on_rotation: 'on',
    log_checkpoints: 'off',
  }
  return Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`])
}
