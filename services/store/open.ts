/** Opens the ledger: a pool of connections, and the numbered migrations run inside a lock. */
import { Kysely, type Migration, Migrator, PostgresDialect } from 'kysely'
import pg from 'pg'
import { migrationsDone, refuseNewerDatabase } from './known-migrations.ts'
import * as ledger from './migrations/0001-ledger.ts'
import * as waitingOrder from './migrations/0002-waiting-order.ts'
import * as workers from './migrations/0003-workers.ts'
import * as keeping from './migrations/0004-keeping.ts'
import * as growth from './migrations/0005-growth.ts'
import * as searchTiles from './migrations/0006-search-tiles.ts'
import * as reruns from './migrations/0007-reruns.ts'
import * as fullerWords from './migrations/0008-fuller-words.ts'
import * as audits from './migrations/0009-audits.ts'
import * as ownAnimals from './migrations/0010-own-animals.ts'
import * as feralPhotos from './migrations/0011-feral-photos.ts'
import * as weekNumbers from './migrations/0012-week-numbers.ts'
import * as notHere from './migrations/0013-not-here.ts'
import * as programs from './migrations/0014-programs.ts'
import * as outcomes from './migrations/0015-outcomes.ts'
import * as jobs from './migrations/0016-jobs.ts'
import * as yardPlans from './migrations/0017-yard-plans.ts'
import * as muster from './migrations/0018-muster.ts'
import * as cameraSources from './migrations/0019-camera-sources.ts'
import * as mail from './migrations/0020-mail.ts'
import * as pastCounts from './migrations/0021-past-counts.ts'
import * as cameraTimes from './migrations/0022-camera-times.ts'
import * as timeShifts from './migrations/0023-time-shifts.ts'
import { prepareInTransactions } from './prepared.ts'
import type { Tables } from './tables.ts'

export type Ledger = Kysely<Tables>

const MIGRATIONS: Readonly<Record<string, Pick<Migration, 'up'>>> = {
  '0001-ledger': ledger,
  '0002-waiting-order': waitingOrder,
  '0003-workers': workers,
  '0004-keeping': keeping,
  '0005-growth': growth,
  '0006-search-tiles': searchTiles,
  '0007-reruns': reruns,
  '0008-fuller-words': fullerWords,
  '0009-audits': audits,
  '0010-own-animals': ownAnimals,
  '0011-feral-photos': feralPhotos,
  '0012-week-numbers': weekNumbers,
  '0013-not-here': notHere,
  '0014-programs': programs,
  '0015-outcomes': outcomes,
  '0018-muster': muster,
  '0017-yard-plans': yardPlans,
  '0016-jobs': jobs,
  '0020-mail': mail,
  '0021-past-counts': pastCounts,
  '0019-camera-sources': cameraSources,
  '0022-camera-times': cameraTimes,
  '0023-time-shifts': timeShifts,
}

const POOL_CONNECTIONS = 12
/** A new connection costs more than most questions, and the morning's first look comes after a quiet night. */
const IDLE_CONNECTION_MS = 24 * 3_600_000
const INT8_OID = 20
const DATE_OID = 1082

/**
 * Ids stay far below 2^53, so bigint columns come as numbers; a night is a date without a clock, so it stays text
 * (as a JavaScript date it would shift with the machine's zone).
 */
const types = {
  getTypeParser(oid: number, format?: 'text' | 'binary') {
    if (oid === INT8_OID) return Number
    if (oid === DATE_OID) return (text: string) => text
    return format === 'binary' ? pg.types.getTypeParser(oid, 'binary') : pg.types.getTypeParser(oid, 'text')
  },
}

/** In the order in which they run. */
export const migrationNames: readonly string[] = Object.keys(MIGRATIONS).toSorted()

/** Runs these migrations on a connection that the caller keeps in one transaction, for a database without tables. */
export async function runMigrations(db: Kysely<unknown>, names: readonly string[]): Promise<void> {
  for (const name of names) await MIGRATIONS[name]!.up(db)
}

/**
 * Connects and brings the tables up to date. Kysely's migrator takes an advisory lock, so two starting at once take turns.
 * @throws Refusal for a database that a newer Hooftally has made.
 */
export async function openLedger(url: string): Promise<Ledger> {
  const pool = new pg.Pool({
    connectionString: url,
    max: POOL_CONNECTIONS,
    idleTimeoutMillis: IDLE_CONNECTION_MS,
    // Else a firewall between lets a quiet connection go, and nobody is told.
    keepAlive: true,
    types: types as pg.CustomTypesConfig,
  })
  // A connection that dies while idle, or between two statements of a transaction, must not end the process: the next
  // query reports the fault. The pool listens only while a connection is idle.
  pool.on('error', () => undefined)
  pool.on('connect', (client) => {
    client.on('error', () => undefined)
    prepareInTransactions(client)
  })
  const ledger: Ledger = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) })
  try {
    refuseNewerDatabase(await migrationsDone(ledger), migrationNames)
  } catch (fault) {
    await ledger.destroy()
    throw fault
  }
  const migrator = new Migrator({
    db: ledger,
    provider: { getMigrations: async () => ({ ...MIGRATIONS }) },
  })
  const { error } = await migrator.migrateToLatest()
  if (error !== undefined) {
    await ledger.destroy()
    throw error
  }
  return ledger
}
