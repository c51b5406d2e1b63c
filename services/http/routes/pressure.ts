/** Grazing pressure of a week, when animals come, and the ratings that turn visits into water and feed. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { reportCsv, unitsCsv } from '../../report/csv.ts'
import { readRatings, saveRatings } from '../../store/ratings.ts'
import type { NightDate } from '../../words.ts'
import { parse, parseBody } from '../parse.ts'
import { pressureOf } from '../pressure-answer.ts'
import { pressureCsvQuery, pressureQuery, ratingsDoor, whenTheyComeQuery } from '../pressure-doors.ts'
import { ratingsOf } from '../ratings-answer.ts'
import { whenTheyComeAt } from '../when-they-come-answer.ts'

export function pressureRoutes(house: House): Router {
  const router = Router()

  router.get('/pressure', async (request, response) => {
    const { week } = parse(pressureQuery, request.query)
    response.json(await pressureOf(house.ledger, { week, now: house.now() }))
  })

  router.get('/pressure.csv', async (request, response) => {
    const { week, part } = parse(pressureCsvQuery, request.query)
    const report = await pressureOf(house.ledger, { week, now: house.now(), everyRow: true })
    const name = part === 'units' ? 'grazing-pressure-units' : `grazing-pressure-${report.week}`
    response
      .type('text/csv; charset=utf-8; header=present')
      .attachment(`${name}.csv`)
      .send(part === 'units' ? unitsCsv() : reportCsv(report))
  })

  router.get('/when-they-come', async (request, response) => {
    const { point, species, other, from, to } = parse(whenTheyComeQuery, request.query)
    response.json(
      await whenTheyComeAt(house.ledger, {
        pointId: point,
        species,
        other,
        from: from as NightDate | undefined,
        to: to as NightDate | undefined,
        now: house.now(),
      }),
    )
  })

  router.get('/ratings', async (_request, response) => {
    response.json({ ratings: ratingsOf(await readRatings(house.ledger)) })
  })

  router.put('/ratings', async (request, response) => {
    const { ratings } = parseBody(ratingsDoor, request)
    response.json({ ratings: ratingsOf(await saveRatings(house.ledger, ratings)) })
  })

  return router
}
