/** How a camera's photos are fetched: set up, changed, tried at once; how many are taken; how its battery is. */
import { type Request, Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import { kindOf } from '../../sources/kinds.ts'
import { findCamera } from '../../store/cameras.ts'
import { readIntakeLimits, saveIntakeLimits } from '../../store/intake-limits.ts'
import { readSettings } from '../../store/settings.ts'
import { addSource, changeSource, findSource, listSources, removeSource } from '../../store/sources.ts'
import { FLAT_PERCENT } from '../../tally/battery-fall.ts'
import { batteriesOf } from '../battery-answer.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import { sourceOf, triedOf } from '../source-answer.ts'
import { intakeLimitsDoor, sourceChangeDoor, sourceDoor } from '../source-doors.ts'

export function sourceRoutes(house: House): Router {
  const router = Router()
  const { ledger, sources } = house

  router.get('/cameras/:id/sources', async (request, response) => {
    const camera = await findCamera(ledger, parseId(request.params.id))
    const { zone } = await readSettings(ledger)
    const rows = await listSources(ledger, camera.id)
    response.json({ sources: await Promise.all(rows.map((row) => sourceOf(ledger, row, zone))) })
  })

  router.post('/cameras/:id/sources', async (request, response) => {
    const { zone } = await readSettings(ledger)
    const camera = await findCamera(ledger, parseId(request.params.id))
    const { kind: name, isOn, settings: given } = parseBody(sourceDoor, request)
    const kind = kindOf(name)
    const settings = parse(kind.door, given, 'settings')
    await kind.refuse(settings, sources.place)
    const row = await addSource(ledger, { cameraId: camera.id, kind: name, settings, isOn })
    response.status(201).json({ source: await sourceOf(ledger, row, zone) })
  })

  router.patch('/cameras/:id/sources/:source', async (request, response) => {
    const { zone } = await readSettings(ledger)
    const before = await findSource(ledger, idsOf(request))
    const { isOn, settings: given } = parseBody(sourceChangeDoor, request)
    const kind = kindOf(before.kind)
    const settings =
      given === undefined ? undefined : parse(kind.door, kind.changed(before.settings, given), 'settings')
    if (settings !== undefined) await kind.refuse(settings, sources.place)
    const row = await changeSource(ledger, before.id, { settings, isOn })
    response.json({ source: await sourceOf(ledger, row, zone) })
  })

  router.delete('/cameras/:id/sources/:source', async (request, response) => {
    const source = await findSource(ledger, idsOf(request))
    await removeSource(ledger, source.id)
    const { zone } = await readSettings(ledger)
    const rows = await listSources(ledger, source.camera_id)
    response.json({ sources: await Promise.all(rows.map((row) => sourceOf(ledger, row, zone))) })
  })

  router.post('/cameras/:id/sources/:source/try', async (request, response) => {
    const { zone } = await readSettings(ledger)
    const ids = idsOf(request)
    await findSource(ledger, ids)
    const tried = await sources.tryNow(ids.sourceId)
    if (tried === null) throw stopping()
    const source = await sourceOf(ledger, await findSource(ledger, ids), zone)
    response.json({ tried: triedOf(tried, zone), source })
  })

  router.get('/batteries', async (_request, response) => {
    const { zone } = await readSettings(ledger)
    const batteries = await batteriesOf(ledger, { now: house.now(), zone })
    response.json({ flatPercent: FLAT_PERCENT, batteries })
  })

  router.get('/intake-limits', async (_request, response) => {
    response.json({ limits: await readIntakeLimits(ledger) })
  })

  router.put('/intake-limits', async (request, response) => {
    await saveIntakeLimits(ledger, parseBody(intakeLimitsDoor, request))
    response.json({ limits: await readIntakeLimits(ledger) })
  })

  return router
}

function idsOf(request: Request) {
  return { cameraId: parseId(request.params.id), sourceId: parseId(request.params.source) }
}

function stopping(): Refusal {
  return new Refusal({
    kind: 'unavailable',
    detail: 'The service is stopping, so nothing was tried.',
    remedy: 'Try it again once the service runs.',
  })
}
