/** How a command beside the service says that it left stills in the ledger: a notification, which may be lost. */
import { sql } from 'kysely'
import pg from 'pg'
import type { Ledger } from './open.ts'

const CHANNEL = 'still_received'
const RECONNECT_MS = 5_000

export async function wakeService(ledger: Ledger): Promise<void> {
  await sql`select pg_notify(${CHANNEL}, '')`.execute(ledger)
}

/** Calls `onWake` whenever another process says so. Without a connection the minute's round does the same, later. */
export function listenForWakes(url: string, onWake: () => void): { stop(): Promise<void> } {
  let stopped = false
  let client: pg.Client | null = null
  let timer: NodeJS.Timeout | null = null

  async function connect(): Promise<void> {
    const fresh = new pg.Client({ connectionString: url, application_name: 'hooftally wakes' })
    client = fresh
    fresh.on('error', () => undefined)
    fresh.on('notification', onWake)
    fresh.once('end', () => {
      if (!stopped) timer = setTimeout(() => void connect(), RECONNECT_MS)
    })
    try {
      await fresh.connect()
      await fresh.query(`listen ${CHANNEL}`)
    } catch {
      await fresh.end().catch(() => undefined)
    }
  }
  void connect()
  return {
    async stop() {
      stopped = true
      if (timer) clearTimeout(timer)
      await client?.end().catch(() => undefined)
    },
  }
}
