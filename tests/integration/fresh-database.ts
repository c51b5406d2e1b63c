/** An empty database for one test file, in the PostgreSQL that start-postgres.ts started. */
import { randomBytes } from 'node:crypto'
import pg from 'pg'
import { inject } from 'vitest'

export interface FreshDatabase {
  readonly url: string
  /** Drops it, and whatever connections are still open to it. */
  drop(): Promise<void>
}

export async function freshDatabase(): Promise<FreshDatabase> {
  const adminUrl = inject('postgresUrl')
  const name = `test_${randomBytes(6).toString('hex')}`
  await runSql(adminUrl, `CREATE DATABASE ${name}`)
  const url = new URL(adminUrl)
  url.pathname = `/${name}`
  return {
    url: url.href,
    drop: () => runSql(adminUrl, `DROP DATABASE IF EXISTS ${name} WITH (FORCE)`),
  }
}

async function runSql(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  try {
    await client.query(statement)
  } finally {
    await client.end()
  }
}
