/** What people said of how much of a night was watched: a log, of which the latest word of a night stands. */
import { sql } from 'kysely'
import { nightOf, nightSpell } from '../tally/nights.ts'
import type { NightDate, Spell } from '../words.ts'
import { type LedgerOrTransaction, readSettings } from './settings.ts'

interface StandingWord {
  readonly point_id: number
  readonly night: NightDate
  readonly share: number
}

async function standing(
  ledger: LedgerOrTransaction,
  pointIds: readonly number[],
  range: { readonly from: NightDate; readonly to: NightDate } | null,
): Promise<StandingWord[]> {
  const within = range === null ? sql`true` : sql`night between ${range.from} and ${range.to}`
  const { rows } = await sql<StandingWord>`select point_id, night, share from (
      select distinct on (point_id, night) point_id, night, share from effort_words
      where point_id = any(${[...pointIds]}::int[]) and ${within} order by point_id, night, id desc
    ) w where share is not null`.execute(ledger)
  return rows
}

/** The shares that stand at a point, by night. */
export async function standingEffortWords(
  ledger: LedgerOrTransaction,
  pointId: number,
  range: { readonly from: NightDate; readonly to: NightDate } | null = null,
): Promise<ReadonlyMap<NightDate, number>> {
  const rows = await standing(ledger, [pointId], range)
  return new Map(rows.map(({ night, share }) => [night, share]))
}

export interface SaidSpells {
  /** Nights said to be watched whole. */
  readonly whole: Spell[]
  /** Nights said not to be watched at all. */
  readonly none: Spell[]
}

/** Nights in a stretch of which a person said that all or nothing was watched; what part of a night it was nobody said. */
export async function wordSpellsAt(
  ledger: LedgerOrTransaction,
  pointIds: readonly number[],
  spell: Spell,
): Promise<ReadonlyMap<number, SaidSpells>> {
  const { rows: any } = await sql<{ there: boolean }>`select exists (select from effort_words
    where point_id = any(${[...pointIds]}::int[])) as there`.execute(ledger)
  const said = new Map<number, SaidSpells>()
  if (any[0]?.there !== true) return said
  const { zone } = await readSettings(ledger)
  const range = { from: nightOf(spell.from, zone), to: nightOf(spell.to, zone) }
  for (const { point_id: id, night, share } of await standing(ledger, pointIds, range)) {
    const spells = said.get(id) ?? { whole: [], none: [] }
    if (share === 1) spells.whole.push(nightSpell(night, zone))
    if (share === 0) spells.none.push(nightSpell(night, zone))
    said.set(id, spells)
  }
  return said
}
