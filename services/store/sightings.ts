/** Keeps the standing tally of a still: the checked counts if a person gave any, else what the models counted. */
import { type RawBuilder, type Selectable, sql, type Transaction } from 'kysely'
import { type JudgedBox, judgeStill } from '../tally/judge.ts'
import { type Box, type Mark, SPECIES, type Species, type Tally } from '../words.ts'
import { toInstant } from './instants.ts'
import type { LedgerOrTransaction, Settings } from './settings.ts'
import type { ChecksTable, DetectionsTable, SightingsTable, Tables } from './tables.ts'
import { gapAtPoint, retouchVisits } from './visits.ts'

/** A person's word counts as certain when the best still of a visit is chosen. */
const CHECKED_SCORE = 1

export interface StillInLedger {
  readonly id: number
  readonly point_id: number
  readonly taken_at: Date
  readonly clock_doubt: string | null
}

type DetectionColumns = Pick<DetectionsTable, 'species' | 'score' | 'runner_up' | 'x0' | 'y0' | 'x1' | 'y1'>

export function toJudgedBox(row: DetectionColumns): JudgedBox {
  const box: Box = [row.x0, row.y0, row.x1, row.y1]
  return { species: row.species, score: row.score, runnerUp: row.runner_up, box }
}

/** What a person last said of a still; null where nobody did or the word was withdrawn. */
export async function standingCheck(ledger: LedgerOrTransaction, stillId: number): Promise<StandingCheck> {
  const { word } = await ledger.selectNoFrom(lastWordOn(sql`${stillId}`).as('word')).executeTakeFirstOrThrow()
  return standingWord(word)
}

type CheckRow = Pick<Selectable<ChecksTable>, 'verdict' | 'counts' | 'marks'>

/** The last check of a still, withdrawn or not, for a question of its own or within one; null where there is none. */
export function lastWordOn(still: RawBuilder<unknown>): RawBuilder<CheckRow | null> {
  return sql`(select json_build_object('verdict', verdict, 'counts', counts, 'marks', marks) from checks
    where still_id = ${still} order by id desc limit 1)`
}

/** The last check as it stands; null where there is none or it was withdrawn. */
export function standingWord(row: CheckRow | null): StandingCheck {
  if (row === null || row.verdict === 'withdrawn') return null
  return { counts: row.counts, marks: row.marks ?? [] }
}

/** What stands of a still, worked out from its boxes, the last word on it, and the marks: no clock, no ledger. */
export interface Standing {
  readonly flagged: boolean
  readonly unsure: boolean
  readonly feral: boolean
  /** A person's word stands on the count. */
  readonly checked: boolean
  /** A person's word says that somebody is in the picture. */
  readonly person: boolean
  /** One row a species; none where the clock is in doubt. */
  readonly sightings: ReadonlyArray<SightingsTable>
}

/** What a person's last word says; its counts are null where it says nothing of the count. */
export type StandingCheck = { readonly counts: Tally | null; readonly marks: readonly Mark[] } | null

export function standingOf(
  still: StillInLedger,
  { boxes, check }: { readonly boxes: readonly JudgedBox[]; readonly check: StandingCheck },
  settings: Settings,
): Standing {
  const judged = judgeStill({ found: boxes, thresholds: settings.thresholds, feral: settings.feral })
  // An agreed count is frozen as the person saw it: a later change of thresholds must not change their word.
  const tally: Tally = still.clock_doubt === null ? (check?.counts ?? judged.tally) : {}
  const checked = check !== null && check.counts !== null
  const person = check?.marks.includes('person') ?? false
  const sightings = SPECIES.flatMap((species) => {
    const head = tally[species] ?? 0
    if (head === 0) return []
    const scores = boxes.filter((box) => box.species === species).map((box) => box.score)
    const score = checked ? CHECKED_SCORE : Math.fround(Math.max(...scores))
    return [{ still_id: still.id, point_id: still.point_id, taken_at: still.taken_at, species, head, score }]
  })
  const { flagged, unsure, feral } = judged
  return { flagged, unsure, feral, checked, person, sightings }
}

/** The species whose head or score is not what the ledger has. */
export function changedSpecies(
  before: ReadonlyArray<Pick<SightingsTable, 'species' | 'head' | 'score'>>,
  now: Standing['sightings'],
): Species[] {
  return SPECIES.filter((species) => {
    const old = before.find((row) => row.species === species)
    const row = now.find((one) => one.species === species)
    return old?.head !== row?.head || old?.score !== row?.score
  })
}

/**
 * Works a done still's standing tally out again from its boxes and checks, and then whatever it touches. The point is
 * locked by the caller. Doing it twice changes nothing.
 */
export async function retallyStill(
  tx: Transaction<Tables>,
  still: StillInLedger,
  settings: Settings,
): Promise<void> {
  const detections = await tx.selectFrom('detections').selectAll().where('still_id', '=', still.id).execute()
  const check = await standingCheck(tx, still.id)
  const standing = standingOf(still, { boxes: detections.map(toJudgedBox), check }, settings)
  await keepStanding(tx, [{ still, standing }], settings)
}

export interface StandingStill {
  readonly still: StillInLedger
  readonly standing: Standing
}

/**
 * Writes down what stands of some stills, and then whatever that touches: sightings, visits, nights. The points are
 * locked by the caller. Many at once cost little more than one.
 */
export async function keepStanding(
  tx: Transaction<Tables>,
  stills: readonly StandingStill[],
  settings: Settings,
): Promise<void> {
  for (const { marks, ids } of alikeMarked(stills)) {
    await tx.updateTable('stills').set(marks).where('id', 'in', ids).execute()
  }
  const changed = await replaceSightings(tx, stills)
  const gaps = new Map<number, number>()
  for (const { still } of changed) {
    const { point_id: id } = still
    if (!gaps.has(id)) gaps.set(id, await gapAtPoint(tx, id, settings.visitGapMinutes))
  }
  await retouchVisits(
    tx,
    changed.map(({ still, species }) => ({
      species,
      pointId: still.point_id,
      at: toInstant(still.taken_at),
      gapMinutes: gaps.get(still.point_id)!,
    })),
    settings.zone,
  )
}

type Marked = Omit<Standing, 'sightings'>

/** Stills with the same marks together: those of a visit mostly have. */
function alikeMarked(
  stills: readonly StandingStill[],
): ReadonlyArray<{ readonly marks: Marked; readonly ids: readonly number[] }> {
  const groups = new Map<string, { marks: Marked; ids: number[] }>()
  for (const { still, standing } of stills) {
    const { sightings: _, ...marks } = standing
    const key = JSON.stringify(marks)
    const group = groups.get(key)
    if (group === undefined) groups.set(key, { marks, ids: [still.id] })
    else group.ids.push(still.id)
  }
  return [...groups.values()]
}

/** @returns which species of which stills stand otherwise than before */
async function replaceSightings(
  tx: Transaction<Tables>,
  stills: readonly StandingStill[],
): Promise<Array<{ readonly still: StillInLedger; readonly species: Species }>> {
  const ids = stills.map(({ still }) => still.id)
  const before = await tx
    .selectFrom('sightings')
    .select(['still_id', 'species', 'head', 'score'])
    .where('still_id', 'in', ids)
    .execute()
  const changed = stills.flatMap(({ still, standing }) => {
    const old = before.filter((row) => row.still_id === still.id)
    return changedSpecies(old, standing.sightings).map((species) => ({ still, species }))
  })
  if (changed.length === 0) return []
  const isChanged = (stillId: number, species: Species) =>
    changed.some((one) => one.still.id === stillId && one.species === species)
  const gone = before.filter((row) => isChanged(row.still_id, row.species))
  if (gone.length > 0) {
    await sql`delete from sightings using unnest(${gone.map((row) => row.still_id)}::bigint[],
      ${gone.map((row) => row.species)}::text[]) as gone (still_id, species)
      where sightings.still_id = gone.still_id and sightings.species = gone.species`.execute(tx)
  }
  const added = stills.flatMap(({ standing }) =>
    standing.sightings.filter((row) => isChanged(row.still_id, row.species)),
  )
  if (added.length > 0) await tx.insertInto('sightings').values(added).execute()
  return changed
}
