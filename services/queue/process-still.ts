/** One still's way from the ledger through the eye and back. */
import { runnerUpScore } from '../../worker/eye/pool.ts'
import { Refusal } from '../refusal.ts'
import { isLedgerAway } from '../store/away.ts'
import type { Ledger } from '../store/open.ts'
import { recordResult } from '../store/results.ts'
import type { StillFiles } from '../store/still-files.ts'
import { findWaiting, findWaitingHash } from '../store/waiting.ts'
import type { EyeProcess } from './eye-process.ts'
import { NotTheStillsFault, type QueueWork } from './queue.ts'

/** What a queue driver drives: find, look, record; and the last resort that keeps a reason. */
export function stillWork({
  ledger,
  files,
  eye,
  log,
}: {
  readonly ledger: Ledger
  readonly files: StillFiles
  readonly eye: EyeProcess
  readonly log: (line: string) => void
}): QueueWork {
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

  return {
    log,
    findWaiting: (ask) => findWaiting(ledger, ask),
    async process({ stillId }) {
      const hash = await ofTheLedger(findWaitingHash(ledger, stillId))
      if (hash === null) return
      const looked = await eye.look(await ofTheFiles(files.sourceOf(hash)))
      const result =
        looked.kind === 'unreadable'
          ? looked
          : { ...looked, found: looked.found.map((one) => ({ ...one, runnerUp: runnerUpScore(one) })) }
      await ofTheLedger(recordResult(ledger, stillId, result))
    },
    async giveUp({ stillId }, reason) {
      await recordResult(ledger, stillId, { kind: 'unreadable', reason })
    },
  }
}
