/** Points, their states, and what happened at them by night. */
import express, { Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import { parseInstant } from '../../station-time.ts'
import { listCameras } from '../../store/cameras.ts'
import { heardUpTo } from '../../store/last-contact.ts'
import { addPointState, listPointStates } from '../../store/point-states.ts'
import { addPoint, changePoint, findPoint, listPoints, putPoints } from '../../store/points.ts'
import { readSettings } from '../../store/settings.ts'
import { readWaterRun } from '../../store/water-run.ts'
import { nightToShow } from '../../tally/nights.ts'
import type { NightDate } from '../../words.ts'
import { cameraOf, pointOf, stateOf } from '../answers.ts'
import { dayQuery, nightsQuery, pointChangeDoor, pointDoor, stateDoor } from '../doors.ts'
import { filmStrip } from '../film-strip.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import { nightsOfPoint } from '../point-nights.ts'
import { readPointsFile } from '../points-file.ts'
import { saidTime } from '../said-time.ts'
import { waterRunRowsOf } from '../water-run-row.ts'

const STATES_SHOWN = 20
const MAX_POINTS_FILE = '2mb'
/** How far ahead of the service's clock a word may be dated: a phone's clock is rarely further out. */
const AHEAD_MINUTES = 5

export function pointRoutes(house: House): Router {
  const router = Router()

  router.get('/points', async (_request, response) => {
    const settings = await readSettings(house.ledger)
    response.json({ points: (await listPoints(house.ledger)).map((row) => pointOf(row, settings)) })
  })

  router.post('/points', async (request, response) => {
    const settings = await readSettings(house.ledger)
    const row = await addPoint(house.ledger, parseBody(pointDoor, request))
    response.status(201).json({ point: pointOf(row, settings) })
  })

  router.post(
    '/points/file',
    express.text({ type: ['text/csv', 'application/geo+json', 'text/plain'], limit: MAX_POINTS_FILE }),
    async (request, response) => {
      const settings = await readSettings(house.ledger)
      const text: unknown = request.body
      if (typeof text !== 'string') {
        throw new Refusal({
          kind: 'bad input',
          detail: 'A points file comes as text/csv or application/geo+json.',
          field: 'Content-Type',
          remedy: 'Set Content-Type to text/csv for CSV or application/geo+json for GeoJSON.',
        })
      }
      const kind = request.is('application/geo+json') ? 'geojson' : 'csv'
      const { added, changed } = await putPoints(house.ledger, readPointsFile(text, kind))
      response.json({
        points: (await listPoints(house.ledger)).map((row) => pointOf(row, settings)),
        added: added.length,
        changed: changed.length,
      })
    },
  )

  router.patch('/points/:id', async (request, response) => {
    const settings = await readSettings(house.ledger)
    const row = await changePoint(
      house.ledger,
      parseId(request.params.id),
      parseBody(pointChangeDoor, request),
    )
    response.json({ point: pointOf(row, settings) })
  })

  router.get('/points/:id', async (request, response) => {
    const settings = await readSettings(house.ledger)
    const id = parseId(request.params.id)
    const now = house.now()
    const point = await findPoint(house.ledger, id)
    const night = nightToShow(now, settings.zone)
    const [facts, cameras, states] = await Promise.all([
      readWaterRun(house.ledger, { night, now: new Date(now), pointId: id }),
      listCameras(house.ledger, id).then((rows) => heardUpTo(house.ledger, rows, now)),
      listPointStates(house.ledger, id, STATES_SHOWN),
    ])
    const [row] = await waterRunRowsOf(house.ledger, facts, { settings, now, night })
    response.json({
      point: pointOf(point, settings),
      row,
      cameras: cameras.map((row) => cameraOf(row, settings, now)),
      states: states.map((row) => stateOf(row, settings.zone)),
    })
  })

  router.get('/points/:id/day', async (request, response) => {
    const { until } = parse(dayQuery, request.query)
    const point = await findPoint(house.ledger, parseId(request.params.id))
    const settings = await readSettings(house.ledger)
    response.json(
      await filmStrip(house.ledger, {
        pointId: point.id,
        until: until === undefined ? house.now() : parseInstant(until),
        settings,
      }),
    )
  })

  router.get('/points/:id/nights', async (request, response) => {
    const range = parse(nightsQuery, request.query)
    const point = await findPoint(house.ledger, parseId(request.params.id))
    const settings = await readSettings(house.ledger)
    response.json({
      nights: await nightsOfPoint(house.ledger, {
        pointId: point.id,
        from: range.from as NightDate | undefined,
        to: range.to as NightDate | undefined,
        settings,
        now: house.now(),
      }),
    })
  })

  router.post('/points/:id/states', async (request, response) => {
    const { kind, at, note } = parseBody(stateDoor, request)
    const settings = await readSettings(house.ledger)
    const now = house.now()
    const row = await addPointState(
      house.ledger,
      {
        pointId: parseId(request.params.id),
        kind,
        at: saidTime(at, { field: 'at', now, aheadMinutes: AHEAD_MINUTES }),
        source: 'tap',
        levelPercent: null,
        note: note ?? null,
      },
      now,
    )
    response.status(201).json({ state: stateOf(row, settings.zone) })
  })

  return router
}
