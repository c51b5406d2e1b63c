/** Stills, visits and pictures as people look at them. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { readSettings } from '../../store/settings.ts'
import { findStill, listChecks, listStills } from '../../store/still-views.ts'
import { listVisits } from '../../store/visit-views.ts'
import type { NightDate } from '../../words.ts'
import { checkOf, stillOf, visitOf } from '../answers.ts'
import { fromCursor, page } from '../cursor.ts'
import { stillIdDoor, stillsQuery, visitsQuery } from '../doors.ts'
import { parse, parseId } from '../parse.ts'
import { sendSmall, sendWhole } from '../pictures.ts'

export function stillRoutes(house: House): Router {
  const router = Router()

  router.get('/stills', async (request, response) => {
    const query = parse(stillsQuery, request.query)
    const settings = await readSettings(house.ledger)
    const views = await listStills(
      house.ledger,
      {
        pointId: query.point,
        cameraId: query.camera,
        night: query.night as NightDate | undefined,
        from: query.from as NightDate | undefined,
        to: query.to as NightDate | undefined,
        visitId: query.visit,
        species: query.species,
        state: query.state,
        doubtfulOnly: query.doubtful === 'yes',
      },
      { place: fromCursor(query.cursor), limit: query.limit + 1 },
    )
    const { rows, next } = page(views, query.limit, ({ still }) => ({ at: still.taken_at, id: still.id }))
    response.json({ stills: rows.map((view) => stillOf(view, settings)), next })
  })

  router.get('/stills/:id', async (request, response) => {
    const settings = await readSettings(house.ledger)
    const view = await findStill(house.ledger, parseId(request.params.id, stillIdDoor))
    const checks = await listChecks(house.ledger, view.still.id)
    response.json({
      still: stillOf(view, settings),
      checks: checks.map((row) => checkOf(row, settings.zone)),
    })
  })

  router.get('/stills/:id/small', async (request, response) => {
    const { still } = await findStill(house.ledger, parseId(request.params.id, stillIdDoor))
    await sendSmall(house.files, still, { request, response })
  })

  router.get('/stills/:id/full', async (request, response) => {
    const { still } = await findStill(house.ledger, parseId(request.params.id, stillIdDoor))
    await sendWhole(house.files, still, { request, response })
  })

  router.get('/visits', async (request, response) => {
    const query = parse(visitsQuery, request.query)
    const settings = await readSettings(house.ledger)
    const visits = await listVisits(
      house.ledger,
      {
        pointId: query.point,
        species: query.species,
        from: query.from as NightDate | undefined,
        to: query.to as NightDate | undefined,
      },
      { place: fromCursor(query.cursor), limit: query.limit + 1 },
    )
    const { rows, next } = page(visits, query.limit, (visit) => ({ at: visit.started_at, id: visit.id }))
    response.json({ visits: rows.map((row) => visitOf(row, settings)), next })
  })

  return router
}
