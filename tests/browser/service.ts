/** The built service for the screen tests: a process of its own on a free port, gone when the tests are done. */
import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as pause } from 'node:timers/promises'
import type { Health } from '../../services/http/shapes.ts'
import { projectFolder } from '../../services/paths.ts'
import { freshDatabase } from '../integration/fresh-database.ts'

export interface ServiceUnderTest {
  readonly address: string
  /** Of `serve`; null for the demo. */
  readonly databaseUrl: string | null
  readonly stop: () => Promise<void>
}

const ADDRESS = /http:\/\/[\d.]+:\d+/
const READ_TIMEOUT_MS = 300_000

/**
 * Starts `serve` (an empty station) with a database of its own, or `demo`, which always brings its own PostgreSQL;
 * `options` go on the command line.
 */
export async function startBuiltService(
  command: 'serve' | 'demo',
  options: readonly string[] = [],
): Promise<ServiceUnderTest> {
  const database = command === 'serve' ? await freshDatabase() : null
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-screens-'))
  // As root PostgreSQL runs as another user, who has to get in.
  await chmod(folder, 0o755)
  const start = join(projectFolder, 'services', 'start.mjs')
  const child = spawn(process.execPath, [start, command, '--port', '0', '--data', folder, ...options], {
    env: { ...process.env, ...(database !== null && { DATABASE_URL: database.url }) },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  const ended = once(child, 'exit')
  // A test run that ends in the middle must not leave a service behind.
  const endWithUs = () => child.kill('SIGTERM')
  process.once('exit', endWithUs)
  const stop = async () => {
    process.off('exit', endWithUs)
    child.kill('SIGTERM')
    await ended
    await database?.drop()
    await rm(folder, { recursive: true, force: true })
  }
  let said = ''
  const address = new Promise<string>((resolve, reject) => {
    const hear = (chunk: Buffer) => {
      said += chunk.toString()
      const found = ADDRESS.exec(said)
      if (found) resolve(found[0])
    }
    child.stdout.on('data', hear)
    child.stderr.on('data', hear)
    ended.then(() => reject(new Error(`the service ended before it answered:\n${said}`)))
  })
  try {
    return { address: await address, databaseUrl: database?.url ?? null, stop }
  } catch (fault) {
    await stop()
    throw fault
  }
}

/** Waits until every photo that came in has been read and the demo's past, if any, is made. */
export async function untilRead(address: string): Promise<void> {
  const giveUpAt = Date.now() + READ_TIMEOUT_MS
  while (Date.now() < giveUpAt) {
    const answer = await fetch(`${address}/api/health`)
    const { progress } = (await answer.json()) as Health
    if (progress.making === null && progress.waiting === 0 && progress.done > 0) return
    await pause(250)
  }
  throw new Error('photos were still waiting to be read')
}
