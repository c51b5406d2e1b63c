/** How cameras are, what kept them from seeing, and how nights were watched; and people's words on all of it. */
import { type Request, Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import { findPoint } from '../../store/points.ts'
import { sayEffort } from '../../store/say-effort.ts'
import { readSettings } from '../../store/settings.ts'
import { findTrouble, listTroubleWords, sayTrouble } from '../../store/troubles.ts'
import { nightOf, nightsBetween } from '../../tally/nights.ts'
import type { NightDate } from '../../words.ts'
import { cameraWatchOf, troubleOf } from '../camera-watch-answer.ts'
import { troubleWordDoor, watchingDoor, watchingQuery } from '../clock-doors.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import { saidTime } from '../said-time.ts'
import { watchingOf } from '../watching-answer.ts'

const MAX_NIGHTS = 400
/** A phone's clock is rarely further out. */
const AHEAD_MINUTES = 5

export function watchingRoutes(house: House): Router {
  const router = Router()
  const { ledger } = house

  router.get('/cameras/watch', async (_request, response) => {
    response.json(await cameraWatchOf(ledger, { settings: await readSettings(ledger), now: house.now() }))
  })

  router.post('/cameras/:id/troubles/:trouble/words', async (request, response) => {
    const { word, setRightAt, who, note } = parseBody(troubleWordDoor, request)
    const { zone } = await readSettings(ledger)
    const now = house.now()
    const troubleId = await troubleOfCamera(request)
    const row = await sayTrouble(ledger, {
      troubleId,
      word,
      setRightAt:
        word === 'set right'
          ? saidTime(setRightAt, { field: 'setRightAt', now, aheadMinutes: AHEAD_MINUTES })
          : null,
      who,
      note: note ?? null,
      now,
    })
    const words = await listTroubleWords(ledger, row.camera_id)
    response.status(201).json({ trouble: troubleOf(row, words, zone) })
  })

  async function troubleOfCamera(request: Request): Promise<number> {
    const trouble = await findTrouble(ledger, parseId(request.params.trouble))
    if (trouble.camera_id === parseId(request.params.id)) return trouble.id
    throw new Refusal({
      kind: 'not found',
      detail: `That was not found wrong with camera ${String(request.params.id)}.`,
      field: 'trouble',
      remedy: 'GET /api/cameras/watch lists what was.',
    })
  }

  router.get('/points/:id/watching', async (request, response) => {
    const { from, to } = parse(watchingQuery, request.query)
    const point = await findPoint(ledger, parseId(request.params.id))
    const range = { from: from as NightDate, to: to as NightDate }
    refuseRange(range)
    const settings = await readSettings(ledger)
    response.json(await watchingOf(ledger, { pointId: point.id, ...range }, { settings, now: house.now() }))
  })

  router.post('/points/:id/watching', async (request, response) => {
    const { share, who, note, night: said } = parseBody(watchingDoor, request)
    const night = said as NightDate
    const pointId = parseId(request.params.id)
    const settings = await readSettings(ledger)
    const now = house.now()
    if (night > nightOf(now, settings.zone)) {
      throw new Refusal({
        kind: 'bad input',
        detail: `night: ${night} is still to come.`,
        field: 'night',
        remedy: 'Choose a night that has begun.',
      })
    }
    await sayEffort(ledger, { pointId, night, share, who, note: note ?? null, at: now })
    response
      .status(201)
      .json(await watchingOf(ledger, { pointId, from: night, to: night }, { settings, now }))
  })

  return router
}

function refuseRange({ from, to }: { readonly from: NightDate; readonly to: NightDate }): void {
  const nights = from <= to ? nightsBetween(from, to).length : 0
  if (nights > 0 && nights <= MAX_NIGHTS) return
  throw new Refusal({
    kind: 'bad input',
    detail: `from: expected 1 to ${MAX_NIGHTS} nights up to ${to}, got ${from}.`,
    field: 'from',
    remedy: 'Ask for a shorter range, with the earlier night first.',
  })
}
