/** `/metrics` in the text format of Prometheus (version 0.0.4). */
import { Router } from 'express'
import { sql } from 'kysely'
import type { House } from '../../house.ts'
import { addGauges } from '../../metrics.ts'
import { readProgress } from '../../store/progress.ts'
import { readWaitingAges } from '../../store/waiting-ages.ts'

/** A reading must come before Prometheus gives up on it (its usual limit is ten seconds). */
const LONGEST_ASK_MS = 5_000

export function metricsRoutes(house: House): Router {
  const { ledger, metrics, queue, eye, room } = house
  const once = askedOnce(() => readWaitingAges(ledger))
  const progress = askedOnce(() => readProgress(ledger))
  addGauges(metrics, {
    hooftally_queue_photos: {
      help: 'Photos that this process has in its queue, by where: waiting or in hand.',
      labelName: 'where',
      ask: async () => ({ waiting: queue.depth().waiting, 'in hand': queue.depth().inHand }),
    },
    hooftally_queue_up: {
      help: '1 where the queue can be reached.',
      ask: async () => Number(queue.isUp()),
    },
    hooftally_given_up_photos: {
      help: 'Photos that failed every try since the start.',
      ask: async () => queue.depth().givenUp,
    },
    hooftally_waiting_photos: {
      help: 'Photos in the database that nobody has looked at, fresh ones (today) and those of old cards (old).',
      labelName: 'urgency',
      ask: async () => {
        const { today, old } = await once()
        return { today, old }
      },
    },
    hooftally_oldest_waiting_seconds: {
      help: 'How long ago the photo that waits longest came in; 0 where none waits.',
      ask: async () => {
        const { oldestAt } = await once()
        return oldestAt === null ? 0 : Math.max(0, (house.now() - oldestAt) / 1000)
      },
    },
    hooftally_photos: {
      help: 'Photos in the database, by state: waiting, done, unreadable.',
      labelName: 'state',
      ask: async () => {
        const { waiting, done, unreadable } = await progress()
        return { waiting, done, unreadable }
      },
    },
    hooftally_eye_restarts: {
      help: 'How often the eye had to be started again since the start.',
      ask: async () => eye?.restarts() ?? null,
    },
    hooftally_eye_ready: {
      help: '1 where the eye of this process is ready.',
      ask: async () => (eye === null ? null : Number(eye.state() === 'ready')),
    },
    hooftally_database_up: {
      help: '1 where the database answers.',
      ask: async () =>
        await within(LONGEST_ASK_MS, sql`select 1`.execute(ledger)).then(
          () => 1,
          () => 0,
        ),
    },
    hooftally_disk_free_bytes: {
      help: 'Free bytes of the disk that photos fill.',
      ask: async () => (await room.look()).freeBytes,
    },
    hooftally_disk_reserve_bytes: {
      help: 'Under so many free bytes no photo is taken.',
      ask: async () => (await room.look()).reserveBytes,
    },
  })
  const router = Router()
  router.get('/metrics', async (_request, response) => {
    const text = await metrics.registry.metrics()
    response.set('Cache-Control', 'no-store').set('Content-Type', metrics.registry.contentType).send(text)
  })
  return router
}

/** Several gauges of one reading share an answer. */
function askedOnce<T>(ask: () => Promise<T>): () => Promise<T> {
  let asked: Promise<T> | null = null
  return () => {
    asked ??= within(LONGEST_ASK_MS, ask()).finally(() => {
      asked = null
    })
    return asked
  }
}

function within<T>(ms: number, asked: Promise<T>): Promise<T> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => reject(new Error(`no answer within ${ms} ms`)), ms)
    asked.then(resolve, reject).finally(() => clearTimeout(timer))
  })
}
