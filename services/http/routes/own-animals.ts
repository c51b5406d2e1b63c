/** The station's own animals: kinds of its own, and the names it has learned from its checks. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { turnNamer } from '../../store/namer-change.ts'
import { findNamer, listNamers } from '../../store/namers.ts'
import { addOwnKind, listOwnKinds, removeOwnKind } from '../../store/own-kinds.ts'
import { readSettings } from '../../store/settings.ts'
import { sendTrainingSet } from '../../training-set/tar.ts'
import { kindDoor, namerCropsQuery, namersDoor } from '../own-animal-doors.ts'
import { kindsOf, namersOf } from '../own-animals-answer.ts'
import { parse, parseBody } from '../parse.ts'

export function ownAnimalRoutes(house: House): Router {
  const { ledger } = house
  const router = Router()

  router.get('/kinds', async (_request, response) => {
    const { zone } = await readSettings(ledger)
    response.json(kindsOf(await listOwnKinds(ledger), zone))
  })

  router.post('/kinds', async (request, response) => {
    const { name } = parseBody(kindDoor, request)
    const { zone } = await readSettings(ledger)
    const kinds = await addOwnKind(ledger, name, house.now())
    house.learning.wake()
    response.status(201).json(kindsOf(kinds, zone))
  })

  router.delete('/kinds/:name', async (request, response) => {
    const { zone } = await readSettings(ledger)
    await removeOwnKind(ledger, parse(kindDoor, { name: request.params.name }).name)
    response.json(kindsOf(await listOwnKinds(ledger), zone))
  })

  router.get('/namers', async (_request, response) => {
    response.json(await namersOf(house))
  })

  router.put('/namers', async (request, response) => {
    const change = parseBody(namersDoor, request)
    await readSettings(ledger)
    await turnNamer(ledger, change, { models: house.models, now: house.now() })
    house.queue.refill()
    house.learning.wake()
    response.json(await namersOf(house))
  })

  router.get('/namers/crops', async (request, response) => {
    const asked = parse(namerCropsQuery, request.query)
    const version = asked.version ?? (await listNamers(ledger))[0]?.id ?? null
    const crops = version === null ? [] : (await findNamer(ledger, version)).crops
    response.json({ version, crops })
  })

  router.get('/training-set', async (_request, response) => {
    await readSettings(ledger)
    const stop = new AbortController()
    response.once('close', () => stop.abort())
    response.set({
      'Content-Type': 'application/x-tar',
      'Content-Disposition': 'attachment; filename="training-set.tar"',
    })
    const source = { ledger, files: house.files, now: house.now(), signal: stop.signal }
    await sendTrainingSet(source, response).catch((fault: unknown) => {
      // Half a file must not look like a whole one; whoever went away needs no answer.
      if (!response.headersSent) throw fault
      response.destroy()
      if (!stop.signal.aborted) house.log(`training set: ${String(fault)}`)
    })
  })

  return router
}
