/** Keeps the effort table: for each point and night, the seconds in which at least one of its cameras was watching. */
import type { Transaction } from 'kysely'
import { type NewContact, secondsWithin, spellsChangedBy } from '../tally/effort.ts'
import { nextNight, nightOf, nightSpell, nightsBetween } from '../tally/nights.ts'
import type { NightDate, Zone } from '../words.ts'
import { standingEffortWords } from './effort-words.ts'
import { readSettings } from './settings.ts'
import type { Tables } from './tables.ts'
import { watchedWithin } from './watched.ts'

/** A statement holds 65,535 parameters, and a row of effort has three. */
const ROWS_AT_ONCE = 10_000

/** Works the given nights of a point out again from its contacts. The point is locked by the caller. */
export async function recountEffort(
  tx: Transaction<Tables>,
  { pointId, nights, zone }: { pointId: number; nights: readonly NightDate[]; zone: Zone },
): Promise<void> {
  const first = nights[0]
  const last = nights.at(-1)
  if (first === undefined || last === undefined) return
  const whole = { from: nightSpell(first, zone).from, to: nightSpell(last, zone).to }
  const watched = await watchedWithin(tx, pointId, whole)
  const words = await standingEffortWords(tx, pointId, { from: first, to: last })
  const rows = nights
    .map((night) => {
      const spell = nightSpell(night, zone)
      const share = words.get(night)
      const watched_seconds =
        share === undefined ? secondsWithin(watched, spell) : (share * (spell.to - spell.from)) / 1000
      return { point_id: pointId, night, watched_seconds }
    })
    .filter((row) => row.watched_seconds > 0)
  await tx.deleteFrom('effort').where('point_id', '=', pointId).where('night', 'in', nights).execute()
  for (let from = 0; from < rows.length; from += ROWS_AT_ONCE) {
    await tx
      .insertInto('effort')
      .values(rows.slice(from, from + ROWS_AT_ONCE))
      .execute()
  }
}

/** Counts again the nights that new contacts can change, once they are in the ledger. Their points are locked by the caller. */
export async function recountChanged(
  tx: Transaction<Tables>,
  contacts: readonly NewContact[],
): Promise<void> {
  const changed = spellsChangedBy(contacts)
  if (changed.length === 0) return
  const { zone } = await readSettings(tx)
  const touched = new Map<number, Set<NightDate>>()
  for (const { pointId, spell } of changed) {
    const nights = touched.get(pointId) ?? new Set()
    for (const night of nightsBetween(nightOf(spell.from, zone), nightOf(spell.to, zone))) nights.add(night)
    touched.set(pointId, nights)
  }
  for (const [pointId, nights] of touched)
    for (const run of runsOf([...nights].sort())) await recountEffort(tx, { pointId, nights: run, zone })
}

/** Nights that follow one another, together: an old card may touch nights years apart, and all between would be read. */
export function runsOf(nights: readonly NightDate[]): NightDate[][] {
  const runs: NightDate[][] = []
  for (const night of nights) {
    const run = runs.at(-1)
    const last = run?.at(-1)
    if (run !== undefined && last !== undefined && nextNight(last) === night) run.push(night)
    else runs.push([night])
  }
  return runs
}
