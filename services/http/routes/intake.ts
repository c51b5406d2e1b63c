/**
 * What cameras send: stills, heartbeats, levels. Each request carries the camera's key, in a header or in its address, for
 * senders that can only call an address; of those some can only GET.
 */
import { type Request, type RequestHandler, Router } from 'express'
import type { z } from 'zod'
import type { House } from '../../house.ts'
import { openIntakeDesk } from '../../intake/desk.ts'
import { toStationTime } from '../../station-time.ts'
import { recordHeartbeat } from '../../store/heartbeats.ts'
import { readIntakeLimits } from '../../store/intake-limits.ts'
import { addPointState } from '../../store/point-states.ts'
import { findPoint } from '../../store/points.ts'
import { readSettings } from '../../store/settings.ts'
import { waterAtLevel } from '../../tally/water-words.ts'
import { stateOf } from '../answers.ts'
import { cameraOfRequest } from '../camera-key.ts'
import { heartbeatDoor, levelDoor } from '../doors.ts'
import { jsonBody } from '../json-body.ts'
import { heartbeatQuery, levelQuery } from '../link-doors.ts'
import { parse, parseBody } from '../parse.ts'
import { declaredBytes } from '../read-photos.ts'
import { saidTime } from '../said-time.ts'
import { takePhotos } from '../take-photos.ts'

/** A camera's clock is set by hand, or never. */
const AHEAD_MINUTES = 10

export function intakeRoutes(house: House): Router {
  const router = Router()
  const desk = openIntakeDesk(house.ledger)
  const intake = { desk, files: house.files, onReceived: house.queue.offer }

  const takeStills: RequestHandler = async (request, response) => {
    const camera = await cameraOfRequest(desk, request)
    const [{ zone }, limits] = await Promise.all([readSettings(house.ledger), readIntakeLimits(house.ledger)])
    house.allowance.refuseIfSpent(camera, { limits, now: house.now() })
    const declared = declaredBytes(request)
    // Before its bytes are read: a photo over a slow link would come in vain.
    await house.room.refuseIfFull(declared ?? 0)
    const hold = house.receiving.hold(declared)
    try {
      const stills = await takePhotos(house, request, { camera, intake, limits, hold })
      response.status(stills.every((still) => still.known) ? 200 : 201).json({
        stills: stills.map((still) => ({ ...still, takenAt: toStationTime(still.takenAt, zone) })),
      })
    } finally {
      hold.release()
    }
  }

  const hearBeat =
    (said: (request: Request) => z.output<typeof heartbeatDoor>): RequestHandler =>
    async (request, response) => {
      const camera = await cameraOfRequest(desk, request)
      const beat = said(request)
      const now = house.now()
      const { known } = await recordHeartbeat(house.ledger, {
        cameraId: camera.id,
        pointId: camera.point_id,
        at: saidTime(beat.at, { field: 'at', now, aheadMinutes: AHEAD_MINUTES }),
        receivedAt: now,
        batteryPercent: beat.batteryPercent ?? null,
        temperatureC: beat.temperatureC ?? null,
        signalPercent: beat.signalPercent ?? null,
        freeBytes: beat.freeBytes ?? null,
      })
      response.status(known ? 200 : 201).json({ known })
    }

  const hearLevel =
    (said: (request: Request) => z.output<typeof levelDoor>): RequestHandler =>
    async (request, response) => {
      const camera = await cameraOfRequest(desk, request)
      const { levelPercent, at } = said(request)
      const { zone } = await readSettings(house.ledger)
      const point = await findPoint(house.ledger, camera.point_id)
      const level = waterAtLevel(levelPercent, {
        lowMarkPercent: point.low_mark_percent,
        dryMarkPercent: point.dry_mark_percent,
      })
      const row = await addPointState(house.ledger, {
        pointId: point.id,
        kind: `water ${level}`,
        at: saidTime(at, { field: 'at', now: house.now(), aheadMinutes: AHEAD_MINUTES }),
        source: 'reading',
        levelPercent,
        note: null,
      })
      response.status(201).json({ state: stateOf(row, zone) })
    }

  // A heartbeat may come without a body at all: the call alone says that the camera is awake.
  const beatInBody = hearBeat((request) => parseBody(heartbeatDoor, request, { ifAbsent: {} }))
  const beatInQuery = hearBeat((request) => parse(heartbeatQuery, request.query))
  const levelInBody = hearLevel((request) => parseBody(levelDoor, request))
  const levelInQuery = hearLevel((request) => parse(levelQuery, request.query))

  router.post('/stills', takeStills)
  router.post('/heartbeats', jsonBody, beatInBody)
  router.post('/levels', jsonBody, levelInBody)
  router.post('/k/:key/stills', takeStills)
  router.post('/k/:key/heartbeats', jsonBody, beatInBody)
  router.get('/k/:key/heartbeats', beatInQuery)
  router.post('/k/:key/levels', jsonBody, levelInBody)
  router.get('/k/:key/levels', levelInQuery)
  return router
}
