/** Photos to check, and the words people say of them. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { recordChecks } from '../../store/checks.ts'
import { readSettings } from '../../store/settings.ts'
import { findStills } from '../../store/still-views.ts'
import { nightToShow } from '../../tally/nights.ts'
import type { NightDate } from '../../words.ts'
import { checkOf, stillOf } from '../answers.ts'
import { checkCardsOf } from '../check-cards.ts'
import { checkCardsQuery, checksDoor } from '../doors.ts'
import { parse, parseBody } from '../parse.ts'

export function checkRoutes(house: House): Router {
  const router = Router()

  router.get('/checks/cards', async (request, response) => {
    const asked = parse(checkCardsQuery, request.query)
    const settings = await readSettings(house.ledger)
    const night = (asked.night as NightDate | undefined) ?? nightToShow(house.now(), settings.zone)
    response.json(await checkCardsOf(house.ledger, { ...asked, night, settings }))
  })

  router.post('/checks', async (request, response) => {
    const { batch: id, who, words } = parseBody(checksDoor, request)
    const settings = await readSettings(house.ledger)
    const written = await recordChecks(house.ledger, { id, words, who, at: house.now() })
    const stills = await findStills(house.ledger, [...new Set(words.map((word) => word.stillId))])
    response.status(201).json({
      checks: written.map((row) => ({ ...checkOf(row, settings.zone), stillId: row.stillId })),
      stills: stills.map((view) => stillOf(view, settings)),
    })
  })

  return router
}
