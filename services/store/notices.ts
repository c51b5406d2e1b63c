/** What processes of one station tell each other through the database: notifications, which may be lost. */
import { sql } from 'kysely'
import type { NightDate } from '../words.ts'
import { type Hearing, hear } from './hear.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'

const STILL_RECEIVED = 'still_received'
const CHANGED = 'changed'
/** A notification holds less than 8,000 bytes (PostgreSQL manual, NOTIFY). */
const MOST_BYTES = 7_900

/** What a person's words changed. */
export interface Change {
  readonly stillIds: readonly number[]
  readonly pointIds: readonly number[]
  readonly nights: readonly NightDate[]
  /** The last check written with it: whoever said it knows it by that. Null where it was no check. */
  readonly checkId: number | null
}

/** From a command beside the service: it left stills in the ledger. */
export async function wakeService(ledger: Ledger): Promise<void> {
  await sql`select pg_notify(${STILL_RECEIVED}, '')`.execute(ledger)
}

/** Told to every process of the station once the transaction is committed, and not if it is not. */
export async function tellChange(tx: LedgerOrTransaction, change: Change): Promise<void> {
  const said = JSON.stringify(change)
  await sql`select pg_notify(${CHANGED}, ${said.length > MOST_BYTES ? '' : said})`.execute(tx)
}

/** What was said of points, and of no photo. */
export async function tellPointsChanged(tx: LedgerOrTransaction, pointIds: readonly number[]): Promise<void> {
  await tellChange(tx, { stillIds: [], pointIds: [...new Set(pointIds)], nights: [], checkId: null })
}

export interface Listeners {
  onWake(): void
  /** Null: something changed, and it is not known what. */
  onChange(change: Change | null): void
}

/** Without a connection the minute's round, and the screens' own asking, do the same, later. */
export function listenForNotices(url: string, { onWake, onChange }: Listeners): Hearing {
  return hear(
    url,
    {
      [STILL_RECEIVED]: onWake,
      [CHANGED]: (said) => onChange(said === '' ? null : (JSON.parse(said) as Change)),
    },
    () => {
      onWake()
      onChange(null)
    },
  )
}
