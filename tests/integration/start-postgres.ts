/** Before all tests: one throwaway PostgreSQL, its address provided as `postgresUrl`; gone when they are done. */
import { chmod, mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { TestProject } from 'vitest/node'
import { openEmbeddedPostgres } from '../../services/store/embedded/open.ts'
import { isAlive } from '../../services/store/embedded/postmaster.ts'

declare module 'vitest' {
  interface ProvidedContext {
    /** Of a superuser; use freshDatabase to get a database of your own. */
    postgresUrl: string
  }
}

const NAME = /^hooftally-tests-(\d+)-/

export default async function startPostgres(project: TestProject): Promise<() => Promise<void>> {
  await removeLeftovers()
  const folder = await mkdtemp(join(tmpdir(), `hooftally-tests-${process.pid}-`))
  // As root PostgreSQL runs as another user, who has to get in.
  await chmod(folder, 0o755)
  const postgres = await openEmbeddedPostgres({ folder, log: () => undefined, durable: false })
  project.provide('postgresUrl', postgres.url)
  return async () => {
    await postgres.stop()
    await rm(folder, { recursive: true, force: true })
  }
}

/** Of test runs that were killed: their PostgreSQL is still running, so it is taken over and stopped. */
async function removeLeftovers(): Promise<void> {
  for (const name of await readdir(tmpdir())) {
    const pid = NAME.exec(name)?.[1]
    if (pid === undefined || isAlive(Number(pid))) continue
    const folder = join(tmpdir(), name)
    try {
      const left = await openEmbeddedPostgres({ folder, log: () => undefined, durable: false })
      await left.stop()
      await rm(folder, { recursive: true, force: true })
    } catch (error) {
      console.warn(`${folder} is left over from a test run and could not be removed:`, error)
    }
  }
}
