/** What else of a station may be killed than the programs we start ourselves (Linux: found through /proc). */
import pg from 'pg'
import { livePostmaster } from '../../services/store/embedded/postmaster.ts'
import type { KeptProcess, Victim } from './household.ts'
import { childrenOf, until } from './service-process.ts'

/** The eye that a service or a worker holds: whoever holds it starts it again. */
export function killableEye(holder: KeptProcess): Victim {
  return {
    name: `eye of the ${holder.name}`,
    async kill() {
      const pid = holder.pid()
      const eyes = pid === undefined ? [] : await childrenOf(pid, 'stub-eye').catch(() => [])
      for (const eye of eyes) killIfThere(eye)
    },
    start: async () => undefined,
  }
}

interface PostgresPlan {
  readonly cluster: string
  readonly databaseUrl: () => Promise<string>
}

/** The whole PostgreSQL, and one of its connections, on which it ends all others and recovers. Its owner starts it again. */
export function killablePostgres({ cluster, databaseUrl }: PostgresPlan): Victim[] {
  const serving = () => until('PostgreSQL serves again', async () => isServing(await databaseUrl()))
  return [
    {
      name: 'PostgreSQL',
      async kill() {
        const postmaster = await livePostmaster(cluster)
        if (postmaster !== null) killIfThere(postmaster.pid)
      },
      start: serving,
    },
    {
      name: 'a connection of PostgreSQL',
      async kill() {
        const postmaster = await livePostmaster(cluster)
        if (postmaster === null) return
        const [backend] = await childrenOf(postmaster.pid, 'postgres: hooftally').catch(() => [])
        if (backend !== undefined) killIfThere(backend)
      },
      start: serving,
    },
  ]
}

function killIfThere(pid: number): void {
  try {
    process.kill(pid, 'SIGKILL')
  } catch {
    // Gone by itself meanwhile.
  }
}

async function isServing(url: string): Promise<boolean> {
  await ask(url, 'select 1')
  return true
}

/** Stills that wait in the ledger. */
export async function countWaiting(url: string): Promise<number> {
  const rows = await ask(url, `select count(*)::int as waiting from stills where state = 'received'`)
  return Number(rows[0]?.waiting)
}

async function ask(url: string, query: string): Promise<Array<Record<string, unknown>>> {
  const client = new pg.Client({ connectionString: url, connectionTimeoutMillis: 5_000 })
  client.on('error', () => undefined)
  try {
    await client.connect()
    return (await client.query(query)).rows
  } finally {
    await client.end().catch(() => undefined)
  }
}
