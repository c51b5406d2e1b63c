/** What people say of cattle that are not in to water. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import { toStationTime } from '../../station-time.ts'
import { sayNormal } from '../../store/cattle-limits.ts'
import { toInstant } from '../../store/instants.ts'
import { findPoint } from '../../store/points.ts'
import { readSettings } from '../../store/settings.ts'
import { watchedWithin } from '../../store/watched.ts'
import { readWaterRun } from '../../store/water-run.ts'
import { secondsWithin } from '../../tally/effort.ts'
import { nightToShow } from '../../tally/nights.ts'
import { NORMAL_FOR_DAYS } from '../../tally/silence-limit.ts'
import type { Instant } from '../../words.ts'
import { parseBody, parseId } from '../parse.ts'
import { normalDoor } from '../pressure-doors.ts'
import { rounded } from '../rounded.ts'

const HOUR_SECONDS = 3_600
const DAY_MS = 86_400_000

export function cattleRoutes(house: House): Router {
  const router = Router()

  router.post('/points/:id/normal', async (request, response) => {
    const point = await findPoint(house.ledger, parseId(request.params.id))
    const { who, note } = parseBody(normalDoor, request, { ifAbsent: {} })
    const { zone } = await readSettings(house.ledger)
    const now = house.now()
    const night = nightToShow(now, zone)
    const [facts] = await readWaterRun(house.ledger, { night, now: new Date(now), pointId: point.id })
    const lastSeen = facts?.lastCattle ?? null
    const silent = lastSeen && { from: toInstant(lastSeen.at), to: now }
    const watched = silent && (await watchedWithin(house.ledger, point.id, silent))
    const silentHours = silent && watched ? secondsWithin(watched, silent) / HOUR_SECONDS : 0
    if (silentHours <= 0) {
      throw new Refusal({
        kind: 'conflict',
        detail: `No watched hour without cattle is known at ${point.name}, so there is nothing to call normal.`,
        field: 'id',
        remedy: 'Wait for the camera’s next word; where cattle were never seen there is no alarm.',
      })
    }
    await sayNormal(house.ledger, { pointId: point.id, at: now, who, silentHours, note: note ?? null })
    response.status(201).json({
      normal: {
        at: toStationTime(now, zone),
        until: toStationTime((now + NORMAL_FOR_DAYS * DAY_MS) as Instant, zone),
        silentHours: rounded(silentHours),
      },
    })
  })

  return router
}
