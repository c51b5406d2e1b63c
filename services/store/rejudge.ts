/** Judges a point's stills again by the marks as they are now, the newest first; only what differs is written. */
import type { Transaction } from 'kysely'
import { nightOf } from '../tally/nights.ts'
import { byStill } from './by-still.ts'
import { lastChecksOn } from './check-rows.ts'
import { toInstant } from './instants.ts'
import type { Settings } from './settings.ts'
import {
  changedSpecies,
  keepStanding,
  type Standing,
  type StandingStill,
  standingOf,
  standingWord,
  toJudgedBox,
} from './sightings.ts'
import type { StillState, Tables } from './tables.ts'

/** Read at once, which is cheap. */
const WALKED_AT_ONCE = 500
/** Written at once: a few hundred milliseconds, in which photos of the point wait to be taken. */
const CHANGED_AT_ONCE = 40

/** A place in the walk from the newest to the oldest. */
export interface Place {
  readonly at: Date
  readonly id: number
}

export type Walk =
  | { readonly end: true; readonly walked: number }
  | { readonly end: false; readonly walked: number; readonly last: Place }

interface WalkedStill {
  readonly id: number
  readonly point_id: number
  readonly taken_at: Date
  readonly clock_doubt: string | null
  readonly state: StillState
  readonly night: string
  readonly flagged: boolean
  readonly unsure: boolean
  readonly feral: boolean
  readonly checked: boolean
  readonly person: boolean
}

/** The next stills of a point after a place (null: from the newest on). The point is locked by the caller. */
export async function rejudgeStills(
  tx: Transaction<Tables>,
  {
    pointId,
    before,
    settings,
  }: { readonly pointId: number; readonly before: Place | null; readonly settings: Settings },
): Promise<Walk> {
  const stills = await tx
    .selectFrom('stills')
    .select(['id', 'point_id', 'taken_at', 'clock_doubt', 'state', 'night'])
    .select(['flagged', 'unsure', 'feral', 'checked', 'person'])
    .where('point_id', '=', pointId)
    .$if(before !== null, (query) =>
      query.where((e) => e(e.refTuple('taken_at', 'id'), '<', e.tuple(before!.at, before!.id))),
    )
    .orderBy('taken_at', 'desc')
    .orderBy('id', 'desc')
    .limit(WALKED_AT_ONCE)
    .execute()
  const standing = await differing(tx, stills, settings)
  const differs: StandingStill[] = []
  let walked = 0
  let changed = 0
  for (const still of stills) {
    if (changed >= CHANGED_AT_ONCE) break
    walked += 1
    const night = nightOf(toInstant(still.taken_at), settings.zone)
    const moved = night !== still.night
    if (moved) await tx.updateTable('stills').set({ night }).where('id', '=', still.id).execute()
    const now = standing.get(still.id)
    if (now !== undefined) differs.push({ still, standing: now })
    if (moved || now !== undefined) changed += 1
  }
  if (differs.length > 0) await keepStanding(tx, differs, settings)
  const last = stills[walked - 1]
  return last === undefined
    ? { end: true, walked: 0 }
    : { end: false, walked, last: { at: last.taken_at, id: last.id } }
}

/** What stands now of those of which something else stood. */
async function differing(
  tx: Transaction<Tables>,
  stills: readonly WalkedStill[],
  settings: Settings,
): Promise<ReadonlyMap<number, Standing>> {
  const done = stills.filter(({ state }) => state === 'done')
  if (done.length === 0) return new Map()
  const ids = done.map(({ id }) => id)
  const detections = await tx.selectFrom('detections').selectAll().where('still_id', 'in', ids).execute()
  const sightings = await tx.selectFrom('sightings').selectAll().where('still_id', 'in', ids).execute()
  const words = await lastChecksOn(tx, ids)
  const boxesOf = byStill(detections)
  const sightingsOf = byStill(sightings)
  const checkOf = new Map(words.map((word) => [word.stillId, standingWord(word)]))
  return new Map(
    done.flatMap((still) => {
      const boxes = (boxesOf.get(still.id) ?? []).map(toJudgedBox)
      const now = standingOf(still, { boxes, check: checkOf.get(still.id) ?? null }, settings)
      const isOther =
        now.flagged !== still.flagged ||
        now.unsure !== still.unsure ||
        now.feral !== still.feral ||
        now.checked !== still.checked ||
        now.person !== still.person ||
        changedSpecies(sightingsOf.get(still.id) ?? [], now.sightings).length > 0
      return isOther ? [[still.id, now]] : []
    }),
  )
}
