/** Old photos looked at again by newer models, and counting again under new marks: asked for, watched, paused. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import { FIRST_NIGHT, LAST_NIGHT } from '../../store/namer-change.ts'
import { presentModels } from '../../store/namer-in-use.ts'
import { findRecount, pauseRecount } from '../../store/recount.ts'
import type { RerunRange } from '../../store/rerun-stills.ts'
import { countForRerun, listReruns, startRerun, stepRerun } from '../../store/reruns.ts'
import { readSettings } from '../../store/settings.ts'
import type { NightDate } from '../../words.ts'
import { rerunOf } from '../answers.ts'
import { rerunCountQuery, rerunDoor } from '../doors.ts'
import { parse, parseBody, parseId } from '../parse.ts'

export function rerunRoutes(house: House): Router {
  const { ledger } = house
  const router = Router()

  router.get('/reruns', async (_request, response) => {
    const { zone } = await readSettings(ledger)
    const reruns = await listReruns(ledger)
    response.json({ reruns: reruns.map((row) => rerunOf(row, zone)), recount: await findRecount(ledger) })
  })

  router.get('/reruns/count', async (request, response) => {
    const range = rangeOf(parse(rerunCountQuery, request.query))
    await readSettings(ledger)
    const models = await presentModels(ledger, house.models)
    const { stills, fromNight, toNight } = await countForRerun(ledger, range, models)
    const { name, version, stationNamer = null } = models
    response.json({ photos: stills, from: fromNight, to: toNight, models: { name, version, stationNamer } })
  })

  router.post('/reruns', async (request, response) => {
    const range = rangeOf(parseBody(rerunDoor, request))
    const { zone } = await readSettings(ledger)
    const rerun = await startRerun(ledger, range, {
      models: await presentModels(ledger, house.models),
      now: house.now(),
    })
    house.queue.refill()
    response.status(201).json({ rerun: rerunOf(rerun, zone) })
  })

  for (const step of ['pause', 'resume', 'stop'] as const) {
    router.post(`/reruns/:id/${step}`, async (request, response) => {
      const { zone } = await readSettings(ledger)
      const rerun = await stepRerun(ledger, parseId(request.params.id), step)
      if (step === 'resume') house.queue.refill()
      response.json({ rerun: rerunOf(rerun, zone) })
    })
  }

  router.post('/recount/pause', async (_request, response) => {
    response.json({ recount: await pauseRecount(ledger, true) })
  })

  router.post('/recount/resume', async (_request, response) => {
    const recount = await pauseRecount(ledger, false)
    house.recounting.wake()
    response.json({ recount })
  })

  return router
}

interface SaidRange {
  readonly from?: string | undefined
  readonly to?: string | undefined
  readonly pointIds?: readonly number[] | undefined
  readonly cameraIds?: readonly number[] | undefined
  readonly unreadableToo: boolean
  readonly namesOnly: boolean
}

function rangeOf({ from, to, pointIds, cameraIds, unreadableToo, namesOnly }: SaidRange): RerunRange {
  const fromNight = (from ?? FIRST_NIGHT) as NightDate
  const toNight = (to ?? LAST_NIGHT) as NightDate
  if (fromNight > toNight) {
    throw new Refusal({
      kind: 'bad input',
      detail: `from: the first night (${fromNight}) is after the last (${toNight}).`,
      field: 'from',
      remedy: 'Give the earlier night first.',
    })
  }
  return {
    fromNight,
    toNight,
    pointIds: pointIds ?? null,
    cameraIds: cameraIds ?? null,
    unreadableToo,
    namesOnly,
  }
}
