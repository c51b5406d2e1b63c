/** Photos that marks are set by, each with how many it stands for. */
import { sql } from 'kysely'
import type { AuditedLook, AuditWeek } from '../tally/audit-evidence.ts'
import { isWhole, stratumOf, wordsOfWeek } from '../tally/corrected-counts.ts'
import type { WeighedPhoto } from '../tally/mark-evidence.ts'
import type { NightDate, Tally } from '../words.ts'
import { readBoxes, readSpoken, type SpokenRow } from './evidence-words.ts'
import type { Ledger } from './open.ts'

export interface WeighedPhotos {
  /** `looks`: drawn by lot, and what had been looked at before the draw. `checks`: photos that people chose, alone. */
  readonly from: 'looks' | 'checks'
  readonly photos: readonly WeighedPhoto[]
}

/**
 * Photos to set marks by. Where whole weeks of blind looks are there, their photos stand for as many as were there for each
 * that was drawn, and beside them those that people had spoken of before the draw stand for themselves. Without such weeks
 * there are only photos that people chose, among which hardly any are that nothing was flagged on.
 */
export async function readWeighedPhotos(
  ledger: Ledger,
  weeks: ReadonlyArray<AuditWeek & { readonly from: NightDate; readonly to: NightDate }>,
): Promise<WeighedPhotos> {
  const whole = weeks.filter(isWhole)
  const spoken = await readSpoken(ledger)
  if (whole.length === 0) {
    // A namer would be tried on what it was taught.
    const unlearned = spoken.filter(({ learned }) => !learned)
    const boxes = await readBoxes(
      ledger,
      unlearned.map(({ still_id }) => still_id),
    )
    const photos = unlearned.map(({ still_id, counts }) => ({
      counts,
      weight: 1,
      boxes: boxes.get(still_id) ?? [],
    }))
    return { from: 'checks', photos }
  }
  const drawn = await readDrawn(ledger, whole)
  const before = await spokenBefore(ledger, { spoken, weekIds: whole.map(({ id }) => id) })
  const boxes = await readBoxes(
    ledger,
    [...drawn, ...before].map(({ still_id }) => still_id),
  )
  return {
    from: 'looks',
    photos: [...drawn, ...before.map((row) => ({ ...row, weight: 1 }))].map(
      ({ still_id, counts, weight }) => ({ counts, weight, boxes: boxes.get(still_id) ?? [] }),
    ),
  }
}

/** The photos of the looks that have a word, and how many photos' looks each stands for. */
async function readDrawn(ledger: Ledger, weeks: readonly AuditWeek[]) {
  const weights = new Map(
    weeks.flatMap((week) => {
      const { strata, audited } = wordsOfWeek(week)
      return strata.map(({ name, bursts }) => {
        const words = audited.filter(({ stratum }) => stratum === name).length
        return [`${week.id}, ${name}`, words === 0 ? 0 : bursts / words] as const
      })
    }),
  )
  const ids = weeks.map(({ id }) => id)
  const { rows } = await sql<{
    still_id: number
    audit_id: number
    side: AuditedLook['side']
    stratum: string
    verdict: string
    counts: Tally
  }>`
    select distinct on (c.still_id) c.still_id, l.audit_id, l.side, l.stratum, c.verdict, c.counts
    from audit_looks l join audit_words w on w.look_id = l.id join checks c on c.id = w.check_id
    where l.audit_id = any(${ids}::int[]) order by c.still_id, c.id desc`.execute(ledger)
  return rows
    .filter(({ verdict }) => verdict !== 'withdrawn')
    .map(({ still_id, counts, audit_id, ...look }) => ({
      still_id,
      counts,
      weight: weights.get(`${audit_id}, ${stratumOf(look)}`) ?? 0,
    }))
}

async function spokenBefore(
  ledger: Ledger,
  { spoken, weekIds }: { readonly spoken: readonly SpokenRow[]; readonly weekIds: readonly number[] },
) {
  const audits = await ledger
    .selectFrom('audits')
    .select(['week_from', 'week_to', 'drawn_at'])
    .where('id', 'in', weekIds)
    .execute()
  return spoken.filter(
    ({ drawn, night, at }) =>
      !drawn &&
      audits.some((audit) => audit.week_from <= night && night <= audit.week_to && at <= audit.drawn_at),
  )
}
