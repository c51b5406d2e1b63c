/** What the Water run and a point's page say of cattle: in or not, by which limit, and what explains it. */
import { z } from 'zod'

const count = z.int().nonnegative()
const localTime = z.iso.datetime({ offset: true })

export const cattleShape = z.object({
  lastSeenAt: localTime.nullable(),
  stillId: count.nullable(),
  /**
   * `not in`: longer away than the limit while watched. `away`: the same, with a good reason (`because`), and no alarm.
   * `not watched`: nobody can say.
   */
  state: z.enum(['in', 'not in', 'away', 'not watched', 'never seen']),
  /** Null where cattle were never seen. */
  limit: z
    .object({
      /** In force: watched hours without them. */
      hours: z.number().positive(),
      /** The owner's longest allowed. */
      longestHours: z.number().positive(),
      season: z.enum(['hot', 'cool']),
      /** Null: not enough past to learn from; the owner's longest holds. */
      learned: z
        .object({
          hours: z.number().nonnegative(),
          from: z.enum(['this point', 'the station']),
          /** Absences that ended, and of how many one outlasts the hours. */
          absences: count,
          oneIn: z.int().positive(),
        })
        .nullable(),
      heldAt: z.enum(['a day', 'the owner’s longest']).nullable(),
      /** Until when somebody's "that is normal here" lifts the limit; null: it does not. */
      normalUntil: localTime.nullable(),
    })
    .nullable(),
  /** What people said that explains it; null: nothing. */
  because: z
    .object({ kind: z.enum(['water off', 'spelled', 'rain', 'trap set']), at: localTime, stops: z.boolean() })
    .nullable(),
  /** A mob that hung on the water in the heat of the last day longer than is usual: see whether water runs. */
  hanging: z
    .object({
      from: localTime,
      hours: z.number().positive(),
      head: z.int().positive(),
      limitHours: z.number().nonnegative(),
    })
    .nullable(),
})

/** Said: a silence of so many watched hours is normal here. */
export const normalAnswer = z.object({
  normal: z.object({ at: localTime, until: localTime, silentHours: z.number().positive() }),
})

export type CattleAnswer = z.infer<typeof cattleShape>
