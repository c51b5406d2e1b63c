/** A week's kept boxes, down to the models' floor: what other marks would have made of it. */
import { sql } from 'kysely'
import type { JudgedBox } from '../tally/judge.ts'
import { nightSpell } from '../tally/nights.ts'
import type { WeekOfNights } from '../tally/weeks.ts'
import type { Species, Zone } from '../words.ts'
import { byStill } from './by-still.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { toJudgedBox } from './sightings.ts'
import type { DetectionsTable } from './tables.ts'

export interface WeekBoxes {
  /** Of each photo with a box of the species, all its boxes. */
  readonly photos: ReadonlyArray<readonly JudgedBox[]>
  /** Photos without such a box that are flagged all the same. */
  readonly others: number
}

type BoxRow = { readonly still_id: number } & Pick<
  DetectionsTable,
  'species' | 'score' | 'runner_up' | 'x0' | 'y0' | 'x1' | 'y1'
>

/** By the index that a point's photos are read by, so that a week costs the same whatever the years. */
export async function readWeekBoxes(
  ledger: Ledger,
  { week, zone, species }: { readonly week: WeekOfNights; readonly zone: Zone; readonly species: Species },
): Promise<WeekBoxes> {
  const from = toDate(nightSpell(week.from, zone).from)
  const to = toDate(nightSpell(week.to, zone).to)
  const stills = sql`select s.id, s.flagged from points p cross join lateral (
      select id, flagged from stills where point_id = p.id and taken_at >= ${from} and taken_at < ${to}
        and state = 'done' and clock_doubt is null) as s`
  const [boxes, others] = await Promise.all([
    sql<BoxRow>`select d.still_id, d.species, d.score, d.runner_up, d.x0, d.y0, d.x1, d.y1
      from (${stills}) as s join detections d on d.still_id = s.id
      where exists (select from detections o where o.still_id = s.id and o.species = ${species})`.execute(
      ledger,
    ),
    sql<{ flagged: number }>`select count(*)::int as flagged from (${stills}) as s
      where s.flagged and not exists (
        select from detections o where o.still_id = s.id and o.species = ${species})`.execute(ledger),
  ])
  return {
    photos: [...byStill(boxes.rows).values()].map((rows) => rows.map(toJudgedBox)),
    others: others.rows[0]!.flagged,
  }
}
