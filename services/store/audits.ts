/**
 * The week's draw of blind looks: made once, and kept with its seed, its strata and its chances. What is drawn stands:
 * later photos, re-runs and new marks change none of it.
 */
import { drawLooks } from '../tally/draw-looks.ts'
import type { WeekOfNights } from '../tally/weeks.ts'
import type { Instant } from '../words.ts'
import { writeCounts, writeKnown, writeLooks, writeStrata } from './audit-rows.ts'
import { readWeekLooks, weekStillWaits } from './audit-week.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { whyNothingGoes } from './retention.ts'
import { findSettings, type LedgerOrTransaction } from './settings.ts'

export interface DrawAsked {
  readonly week: WeekOfNights
  readonly now: Instant
  /** Whoever has it can draw again and see that nobody chose. */
  readonly seed: string
  /** Draws although photos of the week still wait: they come too late. */
  readonly late?: boolean
}

export type Drawn =
  | { readonly kind: 'drawn'; readonly auditId: number; readonly looks: number }
  /** `already`: this week has been drawn. `nothing`: it has no photos. `not yet`: its photos are still being counted. */
  | { readonly kind: 'already' | 'nothing' | 'not yet' | 'none asked for' }

export async function readLooksAWeek(ledger: LedgerOrTransaction): Promise<number> {
  const row = await ledger.selectFrom('audit_settings').select('looks_a_week').executeTakeFirstOrThrow()
  return row.looks_a_week
}

/** From the next draw on. */
export async function saveLooksAWeek(ledger: Ledger, looks: number): Promise<void> {
  await ledger.updateTable('audit_settings').set({ looks_a_week: looks }).execute()
}

/** Draws a week's looks, once: of several that ask at a time one draws, and the others find it done. */
export async function drawWeek(ledger: Ledger, asked: DrawAsked): Promise<Drawn> {
  const { week, now, seed, late = false } = asked
  return await ledger.transaction().execute(async (tx) => {
    const settings = await findSettings(tx)
    const size = await readLooksAWeek(tx)
    if (settings === null) return { kind: 'nothing' }
    if (size === 0) return { kind: 'none asked for' }
    if (await isDrawn(tx, week)) return { kind: 'already' }
    if (!late && ((await whyNothingGoes(tx)) !== null || (await weekStillWaits(tx, week))))
      return { kind: 'not yet' }
    const there = await readWeekLooks(tx, week, settings)
    if (there.looks.length === 0) return { kind: 'nothing' }
    const audit = await tx
      .insertInto('audits')
      .values({
        week_from: week.from,
        week_to: week.to,
        drawn_at: toDate(now),
        seed,
        looks_a_week: size,
        marks: JSON.stringify({ thresholds: settings.thresholds, roles: settings.roles }),
        could_not_be_drawn: there.looks.filter(({ lookedAt, shown }) => !lookedAt && !shown).length,
      })
      .onConflict((conflict) => conflict.column('week_from').doNothing())
      .returning('id')
      .executeTakeFirst()
    if (audit === undefined) return { kind: 'already' }
    const draw = drawLooks(there.looks, { seed, size })
    await writeStrata(tx, audit.id, draw)
    await writeLooks(tx, audit.id, { draw, models: there.models })
    await writeKnown(tx, audit.id, { looks: there.looks, settings })
    await writeCounts(tx, audit.id, there.looks)
    return { kind: 'drawn', auditId: audit.id, looks: draw.drawn.length }
  })
}

export async function isDrawn(ledger: LedgerOrTransaction, week: WeekOfNights): Promise<boolean> {
  const row = await ledger
    .selectFrom('audits')
    .select('id')
    .where('week_from', '=', week.from)
    .executeTakeFirst()
  return row !== undefined
}
