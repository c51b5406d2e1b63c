/** Contacts of a camera: every time it is known to have been awake. */
import { sql, type Transaction } from 'kysely'
import type { Instant, Spell } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { Tables } from './tables.ts'

/** A deployment's ends; null where not known, or not yet. */
export interface DeploymentSpell {
  readonly started_at: Date | null
  readonly ended_at: Date | null
}

/** Stills with a trusted clock and heartbeats: every time the camera is known to have been awake. */
function contactsOf(ledger: LedgerOrTransaction, cameraId: number) {
  return ledger
    .selectFrom('stills')
    .select('taken_at as at')
    .where('camera_id', '=', cameraId)
    .where('clock_doubt', 'is', null)
    .unionAll(ledger.selectFrom('heartbeats').select('at').where('camera_id', '=', cameraId))
}

/** All contacts in a stretch of time, both ends included, in order. */
export async function contactsWithin(
  ledger: LedgerOrTransaction,
  cameraId: number,
  spell: Spell,
): Promise<Instant[]> {
  const rows = await ledger
    .selectFrom(contactsOf(ledger, cameraId).as('contacts'))
    .select('at')
    .where('at', '>=', toDate(spell.from))
    .where('at', '<=', toDate(spell.to))
    .orderBy('at')
    .execute()
  return rows.map((row) => toInstant(row.at))
}

/** First and last contact inside a deployment: all that a camera without heartbeats has to say. */
export async function outerContacts(
  ledger: LedgerOrTransaction,
  cameraId: number,
  within: DeploymentSpell,
): Promise<Instant[]> {
  const row = await ledger
    .selectFrom(contactsOf(ledger, cameraId).as('contacts'))
    .select((e) => [e.fn.min('at').as('first'), e.fn.max('at').as('last')])
    .$if(within.started_at !== null, (query) => query.where('at', '>=', within.started_at!))
    .$if(within.ended_at !== null, (query) => query.where('at', '<=', within.ended_at!))
    .executeTakeFirst()
  return row?.first && row.last ? [toInstant(row.first), toInstant(row.last)] : []
}

/** The contacts next to `at` on both sides, and how many stand at that very instant; inside a deployment if given. */
export async function neighboursOf(
  tx: Transaction<Tables>,
  cameraId: number,
  at: Instant,
  within: DeploymentSpell = { started_at: null, ended_at: null },
): Promise<{ readonly before: Instant | null; readonly after: Instant | null; readonly here: number }> {
  const moment = toDate(at)
  const side = async (table: 'stills' | 'heartbeats') => {
    const column = table === 'stills' ? sql.ref('taken_at') : sql.ref('at')
    const trusted = table === 'stills' ? sql`and clock_doubt is null` : sql``
    const from = within.started_at === null ? sql`` : sql`and ${column} >= ${within.started_at}`
    const to = within.ended_at === null ? sql`` : sql`and ${column} <= ${within.ended_at}`
    const where = sql`from ${sql.table(table)} where camera_id = ${cameraId} ${trusted} ${from} ${to}`
    const { rows } = await sql<{ before: Date | null; after: Date | null; here: number }>`select
      (select max(${column}) ${where} and ${column} < ${moment}) as before,
      (select min(${column}) ${where} and ${column} > ${moment}) as after,
      (select count(*)::int ${where} and ${column} = ${moment}) as here`.execute(tx)
    return rows[0]!
  }
  const stills = await side('stills')
  const heartbeats = await side('heartbeats')
  const befores = [stills.before, heartbeats.before].flatMap((date) =>
    date === null ? [] : [date.getTime()],
  )
  const afters = [stills.after, heartbeats.after].flatMap((date) => (date === null ? [] : [date.getTime()]))
  return {
    before: befores.length > 0 ? (Math.max(...befores) as Instant) : null,
    after: afters.length > 0 ? (Math.min(...afters) as Instant) : null,
    here: stills.here + heartbeats.here,
  }
}
