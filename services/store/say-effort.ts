/** A person's words on how much of a night was watched, written down and listed. */
import type { Instant, NightDate } from '../words.ts'
import { recountEffort } from './effort.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { lockPoint } from './point-lock.ts'
import { findPoint } from './points.ts'
import { readSettings } from './settings.ts'

export interface EffortWord {
  readonly pointId: number
  readonly night: NightDate
  /** 0 to 1; null takes what was said before back. */
  readonly share: number | null
  readonly who: string
  readonly note: string | null
  readonly at: Instant
}

/** Writes a word on a night's watching down; what is kept of the night follows in the same step. */
export async function sayEffort(ledger: Ledger, word: EffortWord): Promise<void> {
  await findPoint(ledger, word.pointId)
  await ledger.transaction().execute(async (tx) => {
    await lockPoint(tx, word.pointId)
    await tx
      .insertInto('effort_words')
      .values({
        point_id: word.pointId,
        night: word.night,
        share: word.share,
        at: toDate(word.at),
        who: word.who,
        note: word.note,
      })
      .execute()
    const { zone } = await readSettings(tx)
    await recountEffort(tx, { pointId: word.pointId, nights: [word.night], zone })
  })
}

/** Every word on the nights of a point, the latest first. */
export async function listEffortWords(
  ledger: Ledger,
  pointId: number,
  { from, to }: { readonly from: NightDate; readonly to: NightDate },
) {
  return await ledger
    .selectFrom('effort_words')
    .selectAll()
    .where('point_id', '=', pointId)
    .where('night', '>=', from)
    .where('night', '<=', to)
    .orderBy('id', 'desc')
    .execute()
}
