/** Photos with a standing word on their count that may leave the station, a page at a time. */
import { sql } from 'kysely'
import type { LabelledBox } from '../learning/labels.ts'
import type { CheckedPhoto } from '../training-set/coco.ts'
import type { DrawnBox, Others, Tally } from '../words.ts'
import { joinStandingCount, labelledBoxesOf } from './counted-photos.ts'
import type { Ledger } from './open.ts'
import { mayLeave } from './what-may-leave.ts'

const PHOTOS_AT_ONCE = 500

export interface CheckedPhotoRow extends CheckedPhoto {
  readonly hash: Buffer
  readonly takenAt: Date
}

interface Row extends Omit<CheckedPhotoRow, 'boxes' | 'drawn' | 'counts' | 'others'> {
  readonly counts: Tally
  readonly others: Others | null
  readonly drawn: readonly DrawnBox[] | null
  readonly boxes: readonly LabelledBox[] | null
}

/** In the order in which they came in; only those whose bytes are kept whole. */
export async function* checkedPhotos(ledger: Ledger): AsyncGenerator<CheckedPhotoRow> {
  for (let after = 0; ; ) {
    const { rows } = await sql<Row>`
      select stills.id as "stillId", hash, taken_at as "takenAt", width, height, c.counts, c.others, c.boxes as drawn,
        ${labelledBoxesOf(sql.ref('stills.id'))} as boxes
      from stills
      ${joinStandingCount(sql.ref('stills.id'))}
      where checked and state = 'done' and kept = 'whole' and ${mayLeave()} and stills.id > ${after}
      order by stills.id limit ${PHOTOS_AT_ONCE}`.execute(ledger)
    for (const row of rows) yield { ...row, drawn: row.drawn ?? [], boxes: row.boxes ?? [] }
    const last = rows.at(-1)
    if (last === undefined || rows.length < PHOTOS_AT_ONCE) return
    after = last.stillId
  }
}
