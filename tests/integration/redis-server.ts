/** A Redis of the test's own on a free port: to be stopped, killed, emptied and started again on the same port. */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { mkdtemp, rm } from 'node:fs/promises'
import type { AddressInfo } from 'node:net'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { Redis } from 'ioredis'

const PROGRAM = 'redis-server'
const LONGEST_START_MS = 20_000

/** Why the tests with Redis are skipped; null where it is there. */
export const noRedis: string | null =
  spawnSync(PROGRAM, ['--version']).status === 0 ? null : `no ${PROGRAM} on this machine`

export interface RedisServer {
  readonly url: string
  readonly port: number
  /** Its process; changes with each start. */
  pid(): number | undefined
  /** Starts it again on the same port, after a stop or a kill. */
  start(): Promise<void>
  /** In good order. */
  stop(): Promise<void>
  /** kill -9: what it had not written to disk is gone. */
  kill(): Promise<void>
  /** FLUSHALL */
  flush(): Promise<void>
  /** Stops it and removes its folder. */
  remove(): Promise<void>
}

export interface RedisOptions {
  /** Writes an append-only file, as a real one would; else a restart begins empty. */
  readonly keeps?: boolean
}

export async function startRedis({ keeps = false }: RedisOptions = {}): Promise<RedisServer> {
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-redis-'))
  const port = await freePort()
  const url = `redis://127.0.0.1:${port}`
  let child: ChildProcess | null = null

  async function start(): Promise<void> {
    if (child !== null) return
    const started = spawn(
      PROGRAM,
      [
        ...['--port', String(port), '--bind', '127.0.0.1', '--dir', folder, '--save', ''],
        ...['--appendonly', keeps ? 'yes' : 'no', '--daemonize', 'no'],
      ],
      { stdio: 'ignore' },
    )
    started.once('exit', () => {
      if (child === started) child = null
    })
    child = started
    await whenAnswering(() => started.exitCode === null && started.signalCode === null)
  }

  async function whenAnswering(isAlive: () => boolean): Promise<void> {
    const until = Date.now() + LONGEST_START_MS
    while (!(await answers())) {
      if (!isAlive() || Date.now() > until) throw new Error(`${PROGRAM} did not come up on port ${port}`)
      await wait(30)
    }
  }

  async function answers(): Promise<boolean> {
    return (await asked((redis) => redis.ping()).catch(() => '')) === 'PONG'
  }

  async function asked<T>(ask: (redis: Redis) => Promise<T>): Promise<T> {
    const redis = new Redis(url, { lazyConnect: true, retryStrategy: () => null, maxRetriesPerRequest: 0 })
    redis.on('error', () => undefined)
    try {
      await redis.connect()
      return await ask(redis)
    } finally {
      redis.disconnect()
    }
  }

  async function end(signal: NodeJS.Signals): Promise<void> {
    const ending = child
    child = null
    if (ending === null || ending.exitCode !== null || ending.signalCode !== null) return
    const exit = once(ending, 'exit')
    ending.kill(signal)
    await exit
  }

  await start()
  return {
    url,
    port,
    pid: () => child?.pid,
    start,
    stop: () => end('SIGTERM'),
    kill: () => end('SIGKILL'),
    async flush() {
      await asked((redis) => redis.flushall())
    },
    async remove() {
      await end('SIGKILL')
      await rm(folder, { recursive: true, force: true })
    },
  }
}

export async function freePort(): Promise<number> {
  const server = createServer()
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  const { port } = server.address() as AddressInfo
  server.close()
  await once(server, 'close')
  return port
}
