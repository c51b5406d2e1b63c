/** How points are reached: the owner's words on each, the distances between them, and the speed of a round. */
import express, { Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import { readAccess, sayAccess } from '../../store/access-notes.ts'
import { readDriving, readTrackDistances, saveDriving, sayTrackDistances } from '../../store/driving.ts'
import { listPoints } from '../../store/points.ts'
import { readSettings } from '../../store/settings.ts'
import { readDistancesFile } from '../distances-file.ts'
import { parseBody, parseId } from '../parse.ts'
import { accessOf } from '../program-answers.ts'
import { accessDoor, distancesDoor, drivingDoor } from '../program-doors.ts'
import type { DistancesAnswer } from '../program-shapes.ts'

const MAX_DISTANCES_FILE = '1mb'

export function accessRoutes(house: House): Router {
  const router = Router()

  router.get('/access', async (_request, response) => {
    const [{ zone }, rows] = await Promise.all([readSettings(house.ledger), readAccess(house.ledger)])
    response.json({ access: rows.map((row) => accessOf(row, zone)) })
  })

  router.put('/points/:id/access', async (request, response) => {
    const { who, ...access } = parseBody(accessDoor, request)
    const { zone } = await readSettings(house.ledger)
    const row = await sayAccess(house.ledger, {
      pointId: parseId(request.params.id),
      at: house.now(),
      who,
      access,
    })
    response.json({ access: accessOf(row, zone) })
  })

  const distances = async (): Promise<DistancesAnswer> => {
    const [table, driving] = await Promise.all([readTrackDistances(house.ledger), readDriving(house.ledger)])
    return {
      distances: table.map(({ between: [from, to], km }) => ({ from, to, km })),
      driving,
    }
  }

  router.get('/distances', async (_request, response) => {
    response.json(await distances())
  })

  router.post('/distances', async (request, response) => {
    const { distances: given, who } = parseBody(distancesDoor, request)
    await sayTrackDistances(
      house.ledger,
      given.map(({ from, to, km }) => ({ between: [from, to], km })),
      { at: house.now(), who },
    )
    response.json(await distances())
  })

  router.post(
    '/distances/file',
    express.text({ type: ['text/csv', 'text/plain'], limit: MAX_DISTANCES_FILE }),
    async (request, response) => {
      const text: unknown = request.body
      if (typeof text !== 'string')
        throw new Refusal({
          kind: 'bad input',
          detail: 'A file of distances comes as text/csv.',
          field: 'Content-Type',
          remedy: 'Set Content-Type to text/csv.',
        })
      const given = readDistancesFile(text, await listPoints(house.ledger))
      await sayTrackDistances(house.ledger, given, { at: house.now(), who: 'station' })
      response.json(await distances())
    },
  )

  router.put('/driving', async (request, response) => {
    await saveDriving(house.ledger, parseBody(drivingDoor, request))
    response.json(await distances())
  })

  return router
}
