/** What became of a program. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { didItWorkAt } from '../did-it-work-answer.ts'
import { didItWorkQuery } from '../did-it-work-doors.ts'
import { parse, parseId } from '../parse.ts'

export function didItWorkRoutes(house: House): Router {
  const router = Router()

  router.get('/programs/:id/did-it-work', async (request, response) => {
    const asked = parse(didItWorkQuery, request.query)
    const programId = parseId(request.params.id)
    response.json(await didItWorkAt(house.ledger, { programId, asked, now: house.now() }))
  })

  return router
}
