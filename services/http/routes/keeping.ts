/** What is kept of photos, and for how long. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { toStationTime } from '../../station-time.ts'
import { readKeeping, saveKeepingRule } from '../../store/keeping.ts'
import { wouldFree } from '../../store/retention.ts'
import { readSettings } from '../../store/settings.ts'
import { keepingDoor, keepingPreviewQuery } from '../doors.ts'
import { parse, parseBody } from '../parse.ts'
import type { KeepingAnswer } from '../shapes.ts'

export function keepingRoutes(house: House): Router {
  const router = Router()

  async function answer(): Promise<KeepingAnswer> {
    const { zone } = await readSettings(house.ledger)
    const { rule, last } = await readKeeping(house.ledger)
    return { keeping: rule, last: last && { ...last, at: toStationTime(last.at, zone) } }
  }

  router.get('/keeping', async (_request, response) => {
    response.json(await answer())
  })

  router.put('/keeping', async (request, response) => {
    await readSettings(house.ledger)
    await saveKeepingRule(house.ledger, parseBody(keepingDoor, request))
    response.json(await answer())
  })

  router.get('/keeping/preview', async (request, response) => {
    const { ledger, files } = house
    const asked = parse(keepingPreviewQuery, request.query)
    const own = (await readKeeping(ledger)).rule
    const rule = { empties: asked.empties ?? own.empties, afterDays: asked.afterDays ?? own.afterDays }
    response.json(await wouldFree({ ledger, files, now: house.now() }, rule))
  })

  return router
}
