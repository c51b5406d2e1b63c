/** The embedded PostgreSQL: a real one, in the data folder, owned by this process and kept running by it. */
import { resolve } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { Refusal } from '../../refusal.ts'
import { accountFor } from './account.ts'
import { acquire, type Owned } from './acquire.ts'
import { ensureCluster, ensureFolder, removeHalfMade, type Site } from './cluster.ts'
import { claimOwnership, DATABASE, databaseUrl, ensureDatabase } from './owner.ts'
import { livePostmaster } from './postmaster.ts'
import { findPrograms } from './programs.ts'
import { folderRefusal } from './refusals.ts'
import { stopPostmaster } from './start-stop.ts'

const LONGEST_PAUSE_MS = 10_000

export interface EmbeddedPostgresOptions {
  /** Holds everything PostgreSQL needs; made if missing. */
  readonly folder: string
  /** Takes one line at a time, for a person. */
  readonly log: (line: string) => void
  /** False turns fsync off: for clusters that may be lost with the machine's power, such as a test's. */
  readonly durable?: boolean
}

export interface EmbeddedPostgres {
  /** Stays the same for as long as this process owns it, also when PostgreSQL had to be started again. */
  readonly url: string
  /** True when it was left running by a process that is gone. */
  readonly tookOver: boolean
  /** Resolves, with the reason, only if another process has become the owner; then `stop` leaves it alone. */
  readonly lost: Promise<Refusal>
  /** Shuts PostgreSQL down and waits until it is. */
  stop(): Promise<void>
}

/**
 * Opens the PostgreSQL in `folder` and the database `hooftally` in it: makes it, starts it or takes it over as needed,
 * and starts it again should it crash (with pauses of up to 10 s, on the same port).
 * Throws a Refusal with its remedy: in use by a live process, folder closed, disk full, programs that don't run.
 */
export async function openEmbeddedPostgres(options: EmbeddedPostgresOptions): Promise<EmbeddedPostgres> {
  const site = await prepare(options)
  const owned = await acquire(site)
  try {
    await ensureDatabase(owned.connection, DATABASE)
    await removeHalfMade(site.folder)
  } catch (error) {
    await stopPostmaster(site)
    throw folderRefusal(error, site.folder)
  }
  options.log(
    owned.tookOver
      ? `Took over the PostgreSQL that was left running (port ${owned.port}).`
      : `PostgreSQL is ready (port ${owned.port}).`,
  )
  return { ...keepUp({ site, log: options.log }, owned), tookOver: owned.tookOver }
}

async function prepare(options: EmbeddedPostgresOptions): Promise<Site> {
  const folder = resolve(options.folder)
  await ensureFolder(folder)
  const account = await accountFor(folder)
  const programs = await findPrograms(folder, account)
  return ensureCluster({ folder, account, programs, durable: options.durable ?? true }, options.log)
}

interface Kept {
  readonly site: Site
  readonly log: (line: string) => void
}

function keepUp({ site, log }: Kept, first: Owned): Omit<EmbeddedPostgres, 'tookOver'> {
  const stopping = new AbortController()
  let lose: (reason: Refusal) => void
  const lost = new Promise<Refusal>((resolveLost) => {
    lose = resolveLost
  })
  let isOwner = true
  let comingBack: Promise<void> = Promise.resolve()
  let stopped: Promise<void> | null = null

  const watch = (owned: Owned) => {
    isOwner = true
    owned.connection.once('end', () => {
      if (stopping.signal.aborted) return
      isOwner = false
      comingBack = comeBack()
    })
  }
  const comeBack = async () => {
    log('The connection to PostgreSQL was lost: bringing it back.')
    for (let tries = 0; !stopping.signal.aborted; tries += 1) {
      try {
        watch(await acquireAt(site, { port: first.port, signal: stopping.signal }))
        log('PostgreSQL is back.')
        return
      } catch (error) {
        if (error instanceof Refusal && error.kind === 'conflict') return lose(error)
        if (stopping.signal.aborted) return
        log(`PostgreSQL is not back yet: ${error instanceof Error ? error.message : String(error)}`)
        await pause(Math.min(LONGEST_PAUSE_MS, 500 * 2 ** tries), stopping.signal)
      }
    }
  }
  const stop = async () => {
    stopping.abort()
    await comingBack
    // Stopped while its lock is held, so that nobody can become its owner in between.
    if (isOwner || (await becomesOwner(site))) await stopPostmaster(site)
  }
  watch(first)
  return {
    url: databaseUrl(site, first.port, DATABASE),
    lost,
    stop: () => {
      stopped ??= stop()
      return stopped
    },
  }
}

/** Like acquire, but the port must be the one that everybody here already connects to. */
async function acquireAt(site: Site, at: { port: number; signal: AbortSignal }): Promise<Owned> {
  const owned = await acquire(site, at)
  if (owned.port === at.port) return owned
  await stopPostmaster(site)
  return acquire(site, at)
}

async function becomesOwner(site: Site): Promise<boolean> {
  const running = await livePostmaster(site.cluster)
  if (running === null || running.port === null) return false
  return (await claimOwnership(site, running.port)).kind === 'owned'
}

async function pause(ms: number, signal: AbortSignal): Promise<void> {
  await wait(ms, undefined, { signal }).catch(() => undefined)
}
