/** The water run: every point, in ten seconds. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { toStationTime } from '../../station-time.ts'
import { readSettings } from '../../store/settings.ts'
import { readWaterRun } from '../../store/water-run.ts'
import { nightSpell, nightToShow } from '../../tally/nights.ts'
import type { NightDate } from '../../words.ts'
import { nightQuery } from '../doors.ts'
import { parse } from '../parse.ts'
import { progressOf } from '../progress.ts'
import type { WaterRunAnswer } from '../shapes.ts'
import { waterRunRowsOf } from '../water-run-row.ts'

export function waterRunRoutes(house: House): Router {
  const router = Router()

  router.get('/water-run', async (request, response) => {
    const asked = parse(nightQuery, request.query).night as NightDate | undefined
    const settings = await readSettings(house.ledger)
    const now = house.now()
    const night = asked ?? nightToShow(now, settings.zone)
    const [facts, progress, { state: room }] = await Promise.all([
      readWaterRun(house.ledger, { night, now: new Date(now) }),
      progressOf(house),
      house.room.look(),
    ])
    const spell = nightSpell(night, settings.zone)
    const answer: WaterRunAnswer = {
      now: toStationTime(now, settings.zone),
      night,
      nightFrom: toStationTime(spell.from, settings.zone),
      nightTo: toStationTime(spell.to, settings.zone),
      rows: await waterRunRowsOf(house.ledger, facts, { settings, now, night }),
      progress,
      room,
    }
    response.json(answer)
  })

  return router
}
