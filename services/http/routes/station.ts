/** The station's settings. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { findSettings, saveSettings } from '../../store/settings.ts'
import type { Zone } from '../../words.ts'
import { stationAnswerOf } from '../answers.ts'
import { stationDoor } from '../doors.ts'
import { parseBody } from '../parse.ts'

export function stationRoutes(house: House): Router {
  const router = Router()

  router.get('/station', async (_request, response) => {
    const settings = await findSettings(house.ledger)
    response.json({ station: settings && stationAnswerOf(settings) })
  })

  router.put('/station', async (request, response) => {
    const { zone, species = [], ...change } = parseBody(stationDoor, request)
    const settings = await saveSettings(
      house.ledger,
      { ...change, zone: zone as Zone, species },
      house.defaultThresholds,
    )
    // New counts follow in the background, where they depend on what changed.
    house.recounting.wake()
    response.json({ station: stationAnswerOf(settings) })
  })

  return router
}
