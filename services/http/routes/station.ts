/** The station's settings. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { recountStation } from '../../store/recount.ts'
import { findSettings, type Settings, saveSettings } from '../../store/settings.ts'
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
    const before = await findSettings(house.ledger)
    const settings = await saveSettings(
      house.ledger,
      { ...change, zone: zone as Zone, species },
      house.defaultThresholds,
    )
    if (before !== null && changesCounts(before, settings)) {
      // In the background, point by point: the view shows the old counts or the new ones, never half of a point.
      recountStation(house.ledger).catch((fault: unknown) => house.log(`recount: ${String(fault)}`))
    }
    response.json({ station: stationAnswerOf(settings) })
  })

  return router
}

function changesCounts(before: Settings, after: Settings): boolean {
  const counted = ({ zone, visitGapMinutes, roles, thresholds }: Settings) =>
    JSON.stringify({ zone, visitGapMinutes, roles, thresholds })
  return counted(before) !== counted(after)
}
