/** One still's way from the ledger through the eye and back. */
import { runnerUpScore } from '../../worker/eye/pool.ts'
import { inBatches } from '../in-batches.ts'
import { Refusal } from '../refusal.ts'
import { recordAgain } from '../store/again.ts'
import { isLedgerAway } from '../store/away.ts'
import { namerInUse } from '../store/namer-in-use.ts'
import type { Ledger } from '../store/open.ts'
import { type Recorded, type Result, recordResults, type StillResult } from '../store/results.ts'
import type { StillFiles } from '../store/still-files.ts'
import { findWaiting, findWaitingLook } from '../store/waiting.ts'
import type { EyeProcess } from './eye-process.ts'
import { nameResult } from './name-result.ts'
import { type LookToTake, NotTheStillsFault, type QueueWork, type WaitingStill } from './queue.ts'
import type { Outcome, StationOfWorker } from './station-of-worker.ts'

/** Writes down what became of a still. Doing it twice leaves one result. */
export type RecordLook = (still: WaitingStill, outcome: Outcome) => Promise<Recorded>

/**
 * Whoever looked at it: the service's own eye or a worker far away. First results that come while others are being
 * written are written together; each look again ends a part of its re-run, and goes alone.
 */
export function openRecording(ledger: Ledger): RecordLook {
  const recordFirst = inBatches((results: readonly StillResult[]) => recordResults(ledger, results))
  return async ({ stillId, urgency }, outcome) => {
    const result = nameResult(resultOf(outcome), await namerInUse(ledger))
    return urgency === 'again' ? recordAgain(ledger, stillId, result) : recordFirst({ stillId, result })
  }
}

function resultOf(outcome: Outcome): Result {
  if (outcome.kind === 'seen') {
    return { ...outcome, found: outcome.found.map((one) => ({ ...one, runnerUp: runnerUpScore(one) })) }
  }
  return { kind: 'unreadable' as const, reason: reasonOf(outcome) }
}

function reasonOf(outcome: Exclude<Outcome, { kind: 'seen' }>): string {
  return outcome.kind === 'unreadable'
    ? outcome.reason
    : `could not be read in ${outcome.tries} tries: ${outcome.reason}`
}

interface Rooms {
  readonly ledger: Ledger
  readonly files: StillFiles
  /** Told what became of each result. */
  readonly onRecorded?: (outcome: Outcome, recorded: Recorded) => void
}

/** What a queue driver drives: find, look, record; and the last resort that keeps a reason. */
export function stillWork({
  eye,
  log,
  ...rooms
}: Rooms & { readonly eye: EyeProcess; readonly log: (line: string) => void }): QueueWork {
  const station = stationHere(rooms)
  return {
    log,
    findWaiting: (ask) => findWaiting(rooms.ledger, ask),
    async process(still) {
      const source = await station.take(still)
      if (source === null) return
      await station.record([{ still, outcome: await eye.look(source) }])
    },
    async giveUp(still, reason) {
      await station.record([{ still, outcome: { kind: 'unreadable', reason } }])
    },
  }
}

/** The station as an eye of this process sees it. */
export function stationHere({ ledger, files, onRecorded }: Rooms): StationOfWorker {
  const recordLook = openRecording(ledger)
  const sourceOf = async ({ hash, tiles }: LookToTake) => ({
    ...(await ofTheFiles(files.sourceOf(Buffer.from(hash, 'hex')))),
    tiles,
  })
  return {
    async take({ stillId, look }) {
      // Bytes that are gone may be those of a photo that somebody removed: the ledger knows.
      const offered = look && (await sourceOf(look).catch(ifNotAway))
      if (offered !== undefined) return offered
      const waiting = await ofTheLedger(findWaitingLook(ledger, stillId))
      return waiting && (await sourceOf(waiting))
    },
    async record(looks) {
      return await Promise.all(
        looks.map(async ({ still, outcome }) => {
          const recorded = await ofTheLedger(recordLook(still, outcome))
          onRecorded?.(outcome, recorded)
          return recorded
        }),
      )
    },
  }
}

function ifNotAway(fault: unknown): undefined {
  if (fault instanceof NotTheStillsFault) throw fault
}

/** The database away is nobody's fault: such a try must not count against the still. */
async function ofTheLedger<T>(asked: Promise<T>): Promise<T> {
  try {
    return await asked
  } catch (fault) {
    if (!isLedgerAway(fault)) throw fault
    throw new NotTheStillsFault(`the ledger is away: ${String(fault)}`, { alone: false })
  }
}

/** So is the place of the bytes, where it is not this machine's disk. */
async function ofTheFiles<T>(asked: Promise<T>): Promise<T> {
  try {
    return await asked
  } catch (fault) {
    if (!(fault instanceof Refusal) || fault.kind !== 'unavailable') throw fault
    throw new NotTheStillsFault(fault.message, { alone: false })
  }
}
