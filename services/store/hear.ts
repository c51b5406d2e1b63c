/** A connection of its own on which other processes' notifications are heard (PostgreSQL manual, LISTEN). */
import pg from 'pg'

const RECONNECT_MS = 5_000

/** Called with what was said on a channel. */
export type Hearers = Readonly<Record<string, (said: string) => void>>

export interface Hearing {
  stop(): Promise<void>
}

/** Hears the channels named; `onBack` is called when the connection is there again after it was lost: things were missed. */
export function hear(url: string, hearers: Hearers, onBack: () => void = () => undefined): Hearing {
  let stopped = false
  let client: pg.Client | null = null
  let timer: NodeJS.Timeout | null = null
  let wasThere = false

  async function connect(): Promise<void> {
    const fresh = new pg.Client({
      connectionString: url,
      application_name: 'hooftally wakes',
      keepAlive: true,
    })
    client = fresh
    fresh.on('error', () => undefined)
    fresh.on('notification', ({ channel, payload }) => hearers[channel]?.(payload ?? ''))
    fresh.once('end', () => {
      if (!stopped) timer = setTimeout(() => void connect(), RECONNECT_MS)
    })
    try {
      await fresh.connect()
      for (const channel of Object.keys(hearers)) await fresh.query(`listen ${pg.escapeIdentifier(channel)}`)
      if (wasThere) onBack()
      wasThere = true
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
