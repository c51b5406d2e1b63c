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
 * Works a done still's standing tally out again from its boxes and checks, and then whatever it touches: flags,
 * sightings, visits, nights. The point is locked by the caller. Doing it twice changes nothing.
 */
export async function retallyStill(
  tx: Transaction<Tables>,
  still: StillInLedger,
  settings: Settings,
): Promise<void> {
  const detections = await tx.selectFrom('detections').selectAll().where('still_id', '=', still.id).execute()
  const check = await standingCheck(tx, still.id)
  const { sightings, ...marks } = standingOf(still, { boxes: detections.map(toJudgedBox), check }, settings)
  await tx.updateTable('stills').set(marks).where('id', '=', still.id).execute()
  const changed = await replaceSightings(tx, still, sightings)
  if (changed.length === 0) return
  const gapMinutes = await gapAtPoint(tx, still.point_id, settings.visitGapMinutes)
  const where = { pointId: still.point_id, at: toInstant(still.taken_at), gapMinutes }
  await retouchVisits(
    tx,
    changed.map((species) => ({ species, ...where })),
    settings.zone,
  )
}

async function replaceSightings(
  tx: Transaction<Tables>,
  still: StillInLedger,
  now: Standing['sightings'],
): Promise<Species[]> {
  const before = await tx
    .selectFrom('sightings')
    .select(['species', 'head', 'score'])
    .where('still_id', '=', still.id)
    .execute()
  const changed = changedSpecies(before, now)
  if (changed.length === 0) return []
  await tx.deleteFrom('sightings').where('still_id', '=', still.id).where('species', 'in', changed).execute()
  const added = now.filter((row) => changed.includes(row.species))
  if (added.length > 0) await tx.insertInto('sightings').values(added).execute()
  return changed
}
