/** From a folder to an owned, running PostgreSQL, whatever was left there: nothing, a dead one, a live one. */
import type { ChildProcess } from 'node:child_process'
import { setTimeout as wait } from 'node:timers/promises'
import type pg from 'pg'
import { Refusal } from '../../refusal.ts'
import type { Site } from './cluster.ts'
import { claimOwnership } from './owner.ts'
import { livePostmaster } from './postmaster.ts'
import { DISK_FULL, folderRefusal, tellingLines } from './refusals.ts'
import { freePort, startPostmaster, startWords } from './start-stop.ts'

/** After kill -9 of an owner PostgreSQL frees its lock within moments; a live owner keeps it. */
const HELD_PATIENCE_MS = 2_000
/** Recovery after a power cut reads up to a gigabyte of log. */
const READY_PATIENCE_MS = 180_000
/** After kill -9 of a postmaster its workers need a moment to notice, and until then a new one won't start. */
const STARTS = 6
const FIRST_PAUSE_MS = 250
const LOOK_EVERY_MS = 100

export interface Owned {
  readonly connection: pg.Client
  readonly port: number
  /** True when it was already running and its owner was gone. */
  readonly tookOver: boolean
}

export interface AcquireOptions {
  /** Where to start it; left out, on a port that is free. */
  readonly port?: number
  /** Gives up when aborted. */
  readonly signal?: AbortSignal
}

/**
 * Becomes the owner of the site's PostgreSQL, starting it if none runs.
 * Throws a Refusal: `conflict` when a live process owns it, `unavailable` when it won't start or when given up.
 */
export async function acquire(site: Site, { port, signal }: AcquireOptions = {}): Promise<Owned> {
  const since = Date.now()
  let heldSince: number | null = null
  let started: ChildProcess | null = null
  let starts = 0
  let lastWords = 'it does not answer'
  for (;;) {
    const running = await livePostmaster(site.cluster)
    if (running !== null && running.port !== null) {
      const claim = await claimOwnership(site, running.port)
      if (claim.kind === 'owned')
        return { connection: claim.connection, port: running.port, tookOver: started?.pid !== running.pid }
      if (claim.kind === 'held') {
        heldSince ??= Date.now()
        if (Date.now() - heldSince > HELD_PATIENCE_MS) throw inUse(site, claim.byProcess)
      } else lastWords = claim.why
    } else if (running === null && (started === null || hasEnded(started))) {
      if (starts > 0) lastWords = tellingLines(await startWords(site)) || lastWords
      if (starts === STARTS) throw willNotStart(site, lastWords)
      if (starts > 0) await wait(FIRST_PAUSE_MS * 2 ** (starts - 1))
      started = await startPostmaster(site, port ?? (await freePort()))
      starts += 1
    }
    if (signal?.aborted === true || Date.now() - since > READY_PATIENCE_MS) {
      // Nobody would own what was started here.
      started?.kill('SIGINT')
      throw willNotStart(site, lastWords)
    }
    await wait(LOOK_EVERY_MS)
  }
}

function hasEnded(child: ChildProcess): boolean {
  return child.pid === undefined || child.exitCode !== null || child.signalCode !== null
}

function inUse(site: Site, byProcess: string): Refusal {
  return new Refusal({
    kind: 'conflict',
    field: '--data',
    detail: `the data folder ${site.folder} is in use by another Hooftally (process ${byProcess})`,
    remedy: 'Stop that one first (Ctrl-C in its terminal), or give --data another folder.',
  })
}

function willNotStart(site: Site, words: string): Refusal {
  if (DISK_FULL.test(words)) return folderRefusal(new Error(words), site.cluster)
  return new Refusal({
    kind: 'unavailable',
    field: '--data',
    detail: `PostgreSQL does not start in ${site.cluster}: ${words}`,
    remedy: `Mend what the message says (more is in ${site.cluster}/log), or give --data another folder.`,
  })
}
