/** A muster and a time without rain, on the owner's figures. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import type { MusterFigures } from '../../planning/muster-figures.ts'
import { keepMusterFigures } from '../../store/muster.ts'
import { musterAt } from '../muster-answer.ts'
import { musterDoor, musterQuery } from '../muster-doors.ts'
import { parse, parseBody } from '../parse.ts'

export function musterRoutes(house: House): Router {
  const router = Router()

  router.get('/muster', async (request, response) => {
    const { version } = parse(musterQuery, request.query)
    response.json(await musterAt(house.ledger, { version, now: house.now() }))
  })

  router.put('/muster', async (request, response) => {
    const { madeOn, figures, note, who } = parseBody(musterDoor, request)
    const now = house.now()
    await keepMusterFigures(house.ledger, {
      madeOn,
      figures: figures as MusterFigures,
      at: now,
      who,
      note: note ?? null,
    })
    response.json(await musterAt(house.ledger, { version: undefined, now }))
  })

  return router
}
