/** Whether the service is well: database, disk, queue, models. */
import { Router } from 'express'
import { sql } from 'kysely'
import type { House } from '../../house.ts'
import { toStationTime } from '../../station-time.ts'
import { findSettings } from '../../store/settings.ts'
import { workersAtWork } from '../../store/workers.ts'
import { version } from '../../version.ts'
import type { Instant, Zone } from '../../words.ts'
import { progressOf } from '../progress.ts'
import type { Health } from '../shapes.ts'
import { SILENT_MS } from '../silent-workers.ts'

const UTC = 'UTC' as Zone
const NO_PROGRESS = { waiting: 0, done: 0, unreadable: 0, making: null, again: null, recount: null }

export function healthRoutes(house: House): Router {
  const router = Router()

  router.get('/health', async (_request, response) => {
    const database = await databaseHealth(house)
    const [{ state: room, freeBytes, reserveBytes }, stills] = await Promise.all([
      house.room.look(),
      house.files.health(),
    ])
    const workers = database.ok ? await workersHealth(house) : null
    const progress = database.ok ? await progressOf(house) : NO_PROGRESS
    const health: Health = {
      ok:
        database.ok &&
        room === 'well' &&
        stills.ok &&
        house.queue.isUp() &&
        looks(house, { workers, progress }),
      version,
      database,
      disk: {
        ok: room === 'well',
        room,
        freeBytes,
        reserveBytes,
        stillsBytes: database.ok ? await stillsBytes(house) : 0,
      },
      stills,
      queue: { ...house.queue.depth(), ok: house.queue.isUp() },
      eye: house.eye && {
        state: house.eye.state(),
        restarts: house.eye.restarts(),
        models: house.eye.models(),
        plan: house.eye.plan(),
      },
      models: house.models,
      workers,
      progress,
    }
    response.status(database.ok ? 200 : 503).json(health)
  })

  return router
}

/** Whether somebody looks at photos: the eye here, or a worker that spoke lately, or nothing waits for one. */
function looks(house: House, { workers, progress }: Pick<Health, 'workers' | 'progress'>): boolean {
  const eye = house.eye?.state()
  if (eye !== undefined) return eye === 'ready' || eye === 'starting'
  return progress.waiting === 0 || (workers?.atWork ?? 0) > 0
}

async function workersHealth(house: House): Promise<Health['workers']> {
  if (house.workers === null) return null
  const { atWork, lastWordAt } = await workersAtWork(house.ledger, (house.now() - SILENT_MS) as Instant)
  const settings = await findSettings(house.ledger)
  return {
    atWork,
    lastWordAt: lastWordAt === null ? null : toStationTime(lastWordAt, settings?.zone ?? UTC),
  }
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
