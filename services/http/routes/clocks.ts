/** Where cameras stood when, and times of photos put right: seen before, made, undone. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { otherMeaning, toStationTime } from '../../station-time.ts'
import { changeTimes, listTimeChanges, readTimesOf } from '../../store/camera-times.ts'
import { findCamera } from '../../store/cameras.ts'
import type { LoggedTime } from '../../store/clock-tables.ts'
import { toInstant } from '../../store/instants.ts'
import { listPlacing } from '../../store/placing.ts'
import { listPoints } from '../../store/points.ts'
import { readSettings } from '../../store/settings.ts'
import { findStill } from '../../store/still-views.ts'
import { addShift, findShift, listShifts, shiftsOverStill, undoShift } from '../../store/time-shifts.ts'
import type { Instant, TakenFrom, Zone } from '../../words.ts'
import { stationTime } from '../answers.ts'
import { cameraTimesDoor, shiftDoor, shiftPreviewQuery, shiftsQuery, undoShiftDoor } from '../clock-doors.ts'
import { stillIdDoor } from '../doors.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import { saidTime } from '../said-time.ts'
import { planShift, shiftOf } from '../shift-answer.ts'

/** A phone's clock is rarely further out. */
const AHEAD_MINUTES = 5
const TIMES_REMEDY = 'Give a time that is over, or leave it empty where it is not known or not over.'
/** Times that a wall clock without an offset said. */
const BY_WALL_CLOCK: ReadonlySet<TakenFrom> = new Set(['exif', 'file name'])

export function clockRoutes(house: House): Router {
  const router = Router()
  const { ledger } = house
  const placingOf = async (cameraId: number) =>
    (await listPlacing(ledger)).find((walk) => walk.cameraId === cameraId) ?? null

  async function timesAnswer(cameraId: number) {
    const { zone } = await readSettings(ledger)
    const points = new Map((await listPoints(ledger)).map(({ id, name }) => [id, name]))
    const told = (at: Instant | null) => at && toStationTime(at, zone)
    const logged = ({ pointId, from, to }: LoggedTime) => ({
      pointId,
      pointName: points.get(pointId) ?? '',
      from: told(from === null ? null : (Date.parse(from) as Instant)),
      to: told(to === null ? null : (Date.parse(to) as Instant)),
    })
    const { times } = (await readTimesOf(ledger, [cameraId])).get(cameraId)!
    return {
      times: times.map(({ pointId, from, to }) => ({
        pointId,
        pointName: points.get(pointId) ?? '',
        from: told(from),
        to: told(to),
      })),
      changes: (await listTimeChanges(ledger, cameraId)).map((row) => ({
        at: stationTime(row.at, zone),
        who: row.who,
        note: row.note,
        before: row.before.map(logged),
        after: row.after.map(logged),
      })),
      placing: await placingOf(cameraId),
    }
  }

  router.get('/cameras/:id/times', async (request, response) => {
    const camera = await findCamera(ledger, parseId(request.params.id))
    response.json(await timesAnswer(camera.id))
  })

  router.put('/cameras/:id/times', async (request, response) => {
    const { times, who, note } = parseBody(cameraTimesDoor, request)
    const camera = await findCamera(ledger, parseId(request.params.id))
    const now = house.now()
    const said = (time: string | null, field: string) =>
      time && saidTime(time, { field, now, aheadMinutes: AHEAD_MINUTES, remedy: TIMES_REMEDY })
    await changeTimes(ledger, camera.id, {
      times: times.map(({ pointId, from, to }, i) => ({
        pointId,
        from: said(from, `times.${i}.from`) as Instant | null,
        to: said(to, `times.${i}.to`) as Instant | null,
      })),
      who,
      note: note ?? null,
      now,
    })
    house.placing.wake()
    response.json(await timesAnswer(camera.id))
  })

  router.get('/stills/:id/time', async (request, response) => {
    const { still } = await findStill(ledger, parseId(request.params.id, stillIdDoor))
    const { zone } = await readSettings(ledger)
    const camera = await findCamera(ledger, still.camera_id)
    const saidAt = still.said_at ?? still.taken_at
    const cameraZone = (camera.zone ?? zone) as Zone
    const other = BY_WALL_CLOCK.has(still.taken_from)
      ? otherMeaning(toInstant(still.taken_at), cameraZone)
      : null
    const shifts = await shiftsOverStill(ledger, { id: still.id, cameraId: still.camera_id, saidAt })
    response.json({
      takenAt: stationTime(still.taken_at, zone),
      saidAt: stationTime(saidAt, zone),
      otherMeaning: other && toStationTime(other, zone),
      shifts: shifts.map((row) => shiftOf(row, zone)),
      placing: await placingOf(still.camera_id),
    })
  })

  router.get('/shifts', async (request, response) => {
    const { camera } = parse(shiftsQuery, request.query)
    const { zone } = await readSettings(ledger)
    const shifts = await listShifts(ledger, camera)
    response.json({ shifts: shifts.map((row) => shiftOf(row, zone)), placing: await listPlacing(ledger) })
  })

  router.get('/shifts/preview', async (request, response) => {
    const { still, takenAt, run } = parse(shiftPreviewQuery, request.query)
    const { zone } = await readSettings(ledger)
    const { preview } = await planShift(ledger, { stillId: still, takenAt, run }, { now: house.now(), zone })
    response.json(preview)
  })

  router.post('/shifts', async (request, response) => {
    const { who, note, ...asked } = parseBody(shiftDoor, request)
    const { zone } = await readSettings(ledger)
    const now = house.now()
    const { run, seconds } = await planShift(ledger, asked, { now, zone })
    const id = await addShift(ledger, { run, seconds, stillId: asked.stillId, who, note: note ?? null, now })
    house.placing.wake()
    response.status(201).json({ shift: shiftOf(await findShift(ledger, id), zone) })
  })

  router.post('/shifts/:id/undo', async (request, response) => {
    const { who, note } = parseBody(undoShiftDoor, request, { ifAbsent: {} })
    const { zone } = await readSettings(ledger)
    const id = parseId(request.params.id)
    await undoShift(ledger, id, { who, note: note ?? null, now: house.now() })
    house.placing.wake()
    response.json({ shift: shiftOf(await findShift(ledger, id), zone) })
  })

  return router
}
