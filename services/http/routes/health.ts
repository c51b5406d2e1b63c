/** Whether the service is well: database, disk, queue, models. */
import { statfs } from 'node:fs/promises'
import { Router } from 'express'
import { sql } from 'kysely'
import type { House } from '../../house.ts'
import { version } from '../../version.ts'
import { progressOf } from '../progress.ts'
import type { Health } from '../shapes.ts'

/** Under this, stills stop fitting soon: a day of a busy station. */
const LOW_DISK_BYTES = 2 * 1024 ** 3
const NO_PROGRESS = { waiting: 0, done: 0, unreadable: 0, making: null }

export function healthRoutes(house: House): Router {
  const router = Router()

  router.get('/health', async (_request, response) => {
    const database = await databaseHealth(house)
    const { bavail, bsize } = await statfs(house.dataFolder)
    const freeBytes = bavail * bsize
    const eye = house.eye.state()
    const health: Health = {
      ok: database.ok && freeBytes > LOW_DISK_BYTES && (eye === 'ready' || eye === 'starting'),
      version,
      database,
      disk: {
        ok: freeBytes > LOW_DISK_BYTES,
        freeBytes,
        stillsBytes: database.ok ? await stillsBytes(house) : 0,
      },
      queue: house.queue.depth(),
      eye: { state: eye, restarts: house.eye.restarts(), models: house.eye.models() },
      progress: database.ok ? await progressOf(house) : NO_PROGRESS,
    }
    response.status(database.ok ? 200 : 503).json(health)
  })

  return router
}

async function databaseHealth(house: House): Promise<Health['database']> {
  try {
    const { rows } = await sql<{
      version: string
    }>`select current_setting('server_version') as version`.execute(house.ledger)
    return { ok: true, detail: `PostgreSQL ${rows[0]?.version}` }
  } catch (fault) {
    return { ok: false, detail: fault instanceof Error ? fault.message : String(fault) }
  }
}

async function stillsBytes(house: House): Promise<number> {
  const { rows } = await sql<{
    bytes: number
  }>`select coalesce(sum(still_bytes), 0)::bigint as bytes from cameras`.execute(house.ledger)
  return rows[0]?.bytes ?? 0
}
