/** What the service and its workers agree on about jobs in Redis: their names, data and order. */
import type { JobsOptions } from 'bullmq'
import { z } from 'zod'
import { URGENCIES, type WaitingStill } from './queue.ts'

/** Before all keys in Redis, which may serve others too. */
export const PREFIX = 'hooftally'

/** A still's own faults until it is given up. */
export const MAX_TRIES = 4
const FIRST_RETRY_MS = 500

const stillJobShape = z.object({
  stillId: z.int().positive(),
  urgency: z.enum(URGENCIES),
  // The hash becomes a part of a path. Jobs of earlier versions have none.
  look: z.object({ hash: z.string().regex(/^[0-9a-f]{64}$/), tiles: z.boolean() }).optional(),
})

export interface JobToAdd {
  readonly name: string
  readonly data: WaitingStill
  readonly opts: JobsOptions
}

/** One job a still: adding one that is there changes nothing, and one that has ended leaves nothing behind. */
export function jobOf(still: WaitingStill): JobToAdd {
  const { stillId, urgency } = still
  return {
    name: 'look',
    data: still,
    opts: {
      // A whole number alone would be taken for one of BullMQ's own.
      jobId: `still-${stillId}`,
      // Lower goes first, and 0 would go before all that have one.
      priority: 1 + URGENCIES.indexOf(urgency),
      attempts: MAX_TRIES,
      backoff: { type: 'exponential', delay: FIRST_RETRY_MS },
      removeOnComplete: true,
      removeOnFail: true,
    },
  }
}

/** The still of a job, or null where it is none of ours. */
export function stillOfJob(data: unknown): WaitingStill | null {
  return stillJobShape.safeParse(data).data ?? null
}
