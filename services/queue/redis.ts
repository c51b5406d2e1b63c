/** Connections to Redis. */
import { Redis, type RedisOptions } from 'ioredis'

const FIRST_RECONNECT_MS = 200
const LONGEST_RECONNECT_MS = 3_000

export interface RedisLink {
  readonly redis: Redis
  /** Ends it, and whatever BullMQ made like it, now or when it next fails to connect. */
  end(): void
}

/** Connects, and connects again for as long as it takes. Says once that Redis is away, and once that it is back. */
export function connectRedis(
  url: string,
  log: (line: string) => void,
  options: Pick<RedisOptions, 'enableOfflineQueue'> = {},
): RedisLink {
  let ended = false
  const redis = new Redis(url, {
    // BullMQ reads answers in the shape they had before RESP3.
    replyMapping: 'legacy',
    // A command waits for its answer as long as it takes (BullMQ asks for this).
    maxRetriesPerRequest: null,
    retryStrategy: (tries: number) =>
      ended ? null : Math.min(LONGEST_RECONNECT_MS, FIRST_RECONNECT_MS * 2 ** Math.min(tries, 10)),
    ...options,
  })
  let away = false
  redis.on('error', (fault: Error) => {
    if (!away) log(`Redis at ${addressWithoutSecrets(url)} does not answer (${fault.message}); trying again`)
    away = true
  })
  redis.on('ready', () => {
    if (away) log('Redis answers again')
    away = false
  })
  return {
    redis,
    end() {
      ended = true
      redis.disconnect()
    },
  }
}

/** A Redis address as it may stand in a log. */
export function addressWithoutSecrets(url: string): string {
  const { protocol, host, pathname } = new URL(url)
  return `${protocol}//${host}${pathname}`
}
