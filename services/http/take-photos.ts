/** Photos in a request, each taken by the one way in. */
import type { Request } from 'express'
import type { House } from '../house.ts'
import { type Intake, takeStill } from '../intake/receive-still.ts'
import { Refusal } from '../refusal.ts'
import { parseInstant } from '../station-time.ts'
import type { CameraRow } from '../store/cameras.ts'
import type { IntakeLimits } from '../store/intake-limits.ts'
import type { ReceivedStill } from '../store/receive.ts'
import { instantDoor, stillFormDoor } from './doors.ts'
import { parse } from './parse.ts'
import { readPhotos } from './read-photos.ts'
import type { Hold } from './receiving.ts'

const TAKEN_AT_HEADER = 'X-Taken-At'

interface Taking {
  readonly camera: CameraRow
  readonly intake: Intake
  readonly limits: IntakeLimits
  readonly hold: Hold
}

/** @throws Refusal: no photo in it, a time that is none, and whatever intake refuses */
export async function takePhotos(
  house: House,
  request: Request,
  { camera, intake, limits, hold }: Taking,
): Promise<ReceivedStill[]> {
  const { photos, fields } = await readPhotos(request, { hold, patienceMs: house.receiving.patienceMs })
  hold.cameWhole()
  if (photos.length === 0) {
    throw new Refusal({
      kind: 'bad input',
      detail: 'There is no photo in the form.',
      field: 'body',
      remedy: 'Add the photo as a file of the form.',
    })
  }
  const { takenAt: inForm } = parse(stillFormDoor, fields)
  const takenAt = inForm ?? request.get(TAKEN_AT_HEADER)
  const senderAt = takenAt === undefined ? null : parseInstant(parse(instantDoor, takenAt, 'takenAt'))
  const stills = []
  for (const { bytes, fileName } of photos) {
    const began = performance.now()
    const arrivedAt = house.now()
    const received = await takeStill(intake, {
      camera,
      bytes,
      fileName,
      fileTime: null,
      senderAt,
      arrivedAt,
    })
    if (!received.known) house.allowance.spend(camera.id, { limits, now: arrivedAt })
    house.metrics.taken(received, (performance.now() - began) / 1000)
    stills.push(received)
  }
  return stills
}
