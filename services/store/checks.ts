/** The append-only log of what people said of stills; tallies, visits and nights follow each word at once. */

import { Refusal } from '../refusal.ts'
import { judgeStill } from '../tally/judge.ts'
import type { Instant, Tally } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { lockPoint } from './point-lock.ts'
import { readSettings } from './settings.ts'
import { retallyStill, toJudgedBox } from './sightings.ts'
import type { Verdict } from './tables.ts'

export interface Word {
  readonly stillId: number
  readonly verdict: Verdict
  /** Head of each species for `corrected`; a zero or an absent species is not there. */
  readonly counts?: Partial<Record<string, number | undefined>>
}

export interface CheckRow {
  readonly id: number
  readonly stillId: number
  readonly at: Date
  readonly who: string
  readonly verdict: Verdict
  readonly counts: Tally | null
}

/** Why there is nothing on a still that a person could speak of. */
const WHY_NOT = {
  gone: 'is not here',
  received: 'has not been looked at yet',
  unreadable: 'could not be read, so there is nothing on it to check',
} as const

/** Records words on stills, all or none. The counts of an agreed word are the machine's at that moment. */
export async function recordChecks(
  ledger: Ledger,
  { words, who, at }: { readonly words: readonly Word[]; readonly who: string; readonly at: Instant },
): Promise<CheckRow[]> {
  return await ledger.transaction().execute(async (tx) => {
    const ids = words.map((word) => word.stillId)
    const points = await tx
      .selectFrom('stills')
      .select('point_id')
      .distinct()
      .where('id', 'in', ids)
      .orderBy('point_id')
      .execute()
    // Locks in one order everywhere, so that two people's words can't wait for each other.
    for (const { point_id } of points) await lockPoint(tx, point_id)
    // Read once nobody else can change them: a second look or a recount may have been at work on these photos.
    const settings = await readSettings(tx)
    const stills = await tx
      .selectFrom('stills')
      .select(['id', 'point_id', 'taken_at', 'clock_doubt', 'state', 'model_id'])
      .where('id', 'in', ids)
      .execute()
    const written: CheckRow[] = []
    for (const [index, word] of words.entries()) {
      const still = stills.find((one) => one.id === word.stillId)
      if (still?.state !== 'done') {
        throw new Refusal({
          kind: still === undefined ? 'not found' : 'conflict',
          detail: `Photo ${word.stillId} ${WHY_NOT[still?.state ?? 'gone']}.`,
          field: `words.${index}.stillId`,
          remedy: 'Load the photos again and say it once more.',
        })
      }
      const detections = await tx
        .selectFrom('detections')
        .selectAll()
        .where('still_id', '=', still.id)
        .execute()
      const { tally } = judgeStill({
        found: detections.map(toJudgedBox),
        thresholds: settings.thresholds,
        feral: settings.feral,
      })
      const models =
        still.model_id === null
          ? null
          : await tx
              .selectFrom('models')
              .selectAll()
              .where('id', '=', still.model_id)
              .executeTakeFirstOrThrow()
      const counts =
        word.verdict === 'agreed' ? tally : word.verdict === 'corrected' ? headOf(word.counts ?? {}) : null
      const row = await tx
        .insertInto('checks')
        .values({
          still_id: still.id,
          at: toDate(at),
          who,
          verdict: word.verdict,
          counts: counts === null ? null : JSON.stringify(counts),
          seen: JSON.stringify({
            models:
              models === null
                ? null
                : {
                    name: models.name,
                    version: models.version,
                    detectorSha256: models.detector_sha256,
                    namerSha256: models.namer_sha256,
                  },
            thresholds: settings.thresholds,
            tally,
          }),
        })
        .returning('id')
        .executeTakeFirstOrThrow()
      await retallyStill(tx, still, settings)
      written.push({ id: row.id, stillId: still.id, at: toDate(at), who, verdict: word.verdict, counts })
    }
    return written
  })
}

function headOf(counts: Partial<Record<string, number | undefined>>): Tally {
  return Object.fromEntries(
    Object.entries(counts).filter(([, head]) => head !== undefined && head > 0),
  ) as Tally
}
