/** Cameras and their keys. */
import { Router } from 'express'
import type { House } from '../../house.ts'
import { addCamera, changeCamera, renewCameraKey } from '../../store/camera-setup.ts'
import { listCameras } from '../../store/cameras.ts'
import { heardUpTo } from '../../store/last-contact.ts'
import { readSettings } from '../../store/settings.ts'
import { cameraOf } from '../answers.ts'
import { cameraChangeDoor, cameraDoor } from '../doors.ts'
import { parseBody, parseId } from '../parse.ts'
import { saidTime } from '../said-time.ts'

/** A phone's clock is rarely further out. */
const AHEAD_MINUTES = 5
const PUT_UP_REMEDY = 'Say when it was put up, today at the latest, or leave it out where that is not known.'

export function cameraRoutes(house: House): Router {
  const router = Router()

  router.get('/cameras', async (_request, response) => {
    const settings = await readSettings(house.ledger)
    const now = house.now()
    const rows = await heardUpTo(house.ledger, await listCameras(house.ledger), now)
    response.json({ cameras: rows.map((row) => cameraOf(row, settings, now)) })
  })

  router.post('/cameras', async (request, response) => {
    const { since, ...fields } = parseBody(cameraDoor, request)
    const settings = await readSettings(house.ledger)
    const { camera, key } = await addCamera(
      house.ledger,
      fields,
      since === undefined
        ? null
        : saidTime(since, {
            field: 'since',
            now: house.now(),
            aheadMinutes: AHEAD_MINUTES,
            remedy: PUT_UP_REMEDY,
          }),
    )
    response.status(201).json({ camera: cameraOf(camera, settings, house.now()), key })
  })

  router.patch('/cameras/:id', async (request, response) => {
    const change = parseBody(cameraChangeDoor, request)
    const settings = await readSettings(house.ledger)
    const camera = await changeCamera(house.ledger, parseId(request.params.id), { change, now: house.now() })
    // Photos that wait were offered as the camera was before; the change holds for all that are looked at from now on.
    if (change.searchTiles !== undefined) house.queue.askAnew()
    response.json({ camera: cameraOf(camera, settings, house.now()) })
  })

  router.post('/cameras/:id/key', async (request, response) => {
    const settings = await readSettings(house.ledger)
    const { camera, key } = await renewCameraKey(house.ledger, parseId(request.params.id))
    response.json({ camera: cameraOf(camera, settings, house.now()), key })
  })

  return router
}
