/** What cameras send: stills, heartbeats, levels. Each request carries the camera's key. */
import { type Request, Router } from 'express'
import type { House } from '../../house.ts'
import { openIntakeDesk } from '../../intake/desk.ts'
import { takeStill } from '../../intake/receive-still.ts'
import { Refusal } from '../../refusal.ts'
import { parseInstant, toStationTime } from '../../station-time.ts'
import type { CameraRow } from '../../store/cameras.ts'
import { recordHeartbeat } from '../../store/heartbeats.ts'
import { type IntakeLimits, readIntakeLimits } from '../../store/intake-limits.ts'
import { addPointState } from '../../store/point-states.ts'
import { findPoint } from '../../store/points.ts'
import type { ReceivedStill } from '../../store/receive.ts'
import { readSettings } from '../../store/settings.ts'
import { waterAtLevel } from '../../tally/water-words.ts'
import { stateOf } from '../answers.ts'
import { cameraOfRequest } from '../camera-key.ts'
import { heartbeatDoor, instantDoor, levelDoor, stillFormDoor } from '../doors.ts'
import { jsonBody } from '../json-body.ts'
import { parse, parseBody } from '../parse.ts'
import { declaredBytes, readPhotos } from '../read-photos.ts'
import type { Hold } from '../receiving.ts'
import { saidTime } from '../said-time.ts'

const TAKEN_AT_HEADER = 'X-Taken-At'
/** A camera's clock is set by hand, or never. */
const AHEAD_MINUTES = 10

export function intakeRoutes(house: House): Router {
  const router = Router()
  const desk = openIntakeDesk(house.ledger)
  const intake = { desk, files: house.files, onReceived: house.queue.offer }

  router.post('/stills', async (request, response) => {
    const camera = await cameraOfRequest(desk, request)
    const [{ zone }, limits] = await Promise.all([readSettings(house.ledger), readIntakeLimits(house.ledger)])
    house.allowance.refuseIfSpent(camera, { limits, now: house.now() })
    const declared = declaredBytes(request)
    // Before its bytes are read: a photo over a slow link would come in vain.
    await house.room.refuseIfFull(declared ?? 0)
    const hold = house.receiving.hold(declared)
    try {
      const stills = await takePhotos(request, { camera, hold, limits })
      response.status(stills.every((still) => still.known) ? 200 : 201).json({
        stills: stills.map((still) => ({ ...still, takenAt: toStationTime(still.takenAt, zone) })),
      })
    } finally {
      hold.release()
    }
  })

  router.post('/heartbeats', jsonBody, async (request, response) => {
    const camera = await cameraOfRequest(desk, request)
    // It may come without a body at all: the call alone says that the camera is awake.
    const body = parseBody(heartbeatDoor, request, { ifAbsent: {} })
    const now = house.now()
    const { known } = await recordHeartbeat(house.ledger, {
      cameraId: camera.id,
      pointId: camera.point_id,
      at: saidTime(body.at, { field: 'at', now, aheadMinutes: AHEAD_MINUTES }),
      receivedAt: now,
      batteryPercent: body.batteryPercent ?? null,
      temperatureC: body.temperatureC ?? null,
      signalPercent: body.signalPercent ?? null,
      freeBytes: body.freeBytes ?? null,
    })
    response.status(known ? 200 : 201).json({ known })
  })

  router.post('/levels', jsonBody, async (request, response) => {
    const camera = await cameraOfRequest(desk, request)
    const { levelPercent, at } = parseBody(levelDoor, request)
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
  })

  async function takePhotos(
    request: Request,
    {
      camera,
      hold,
      limits,
    }: { readonly camera: CameraRow; readonly hold: Hold; readonly limits: IntakeLimits },
  ): Promise<ReceivedStill[]> {
    const { photos, fields } = await readPhotos(request, { hold, patienceMs: house.receiving.patienceMs })
    hold.cameWhole()
    if (photos.length === 0) {
      throw new Refusal({
        kind: 'bad input',
        detail: 'There is no photo in the form.',
        field: 'body',
        remedy: 'Add the photo as a file of the form.',
      })
    }
    const { takenAt: inForm } = parse(stillFormDoor, fields)
    const takenAt = inForm ?? request.get(TAKEN_AT_HEADER)
    const senderAt = takenAt === undefined ? null : parseInstant(parse(instantDoor, takenAt, 'takenAt'))
    const stills = []
    for (const { bytes, fileName } of photos) {
      const began = performance.now()
      const received = await takeStill(intake, {
        camera,
        bytes,
        fileName,
        fileTime: null,
        senderAt,
        arrivedAt: house.now(),
      })
      if (!received.known) house.allowance.spend(camera.id, { limits, now: house.now() })
      house.metrics.taken(received, (performance.now() - began) / 1000)
      stills.push(received)
    }
    return stills
  }

  return router
}
