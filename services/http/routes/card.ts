/** A card or folder of a camera, put in from the view: which of its files came before, and the others one by one. */
import { type Request, Router } from 'express'
import type { House } from '../../house.ts'
import { takeStill } from '../../intake/receive-still.ts'
import { Refusal } from '../../refusal.ts'
import { findCamera } from '../../store/cameras.ts'
import { findKnownStills, type ReceivedStill } from '../../store/receive.ts'
import { readSettings } from '../../store/settings.ts'
import type { Instant } from '../../words.ts'
import { type CardKnown, cardKnownDoor, fileTimeDoor } from '../card-doors.ts'
import { jsonBody } from '../json-body.ts'
import { parse, parseBody, parseId } from '../parse.ts'
import { declaredBytes, readPhotos } from '../read-photos.ts'
import { takenPhotoOf } from '../taken-photo.ts'

const FILE_TIME_HEADER = 'X-File-Time'

/** Photos of a card are its owner's: how many a camera may send in a day does not hold for them. */
export function cardRoutes(house: House): Router {
  const router = Router()

  router.post('/cameras/:id/card/known', jsonBody, async (request, response) => {
    const { hashes } = parseBody(cardKnownDoor, request)
    const { id: cameraId } = await findCamera(house.ledger, parseId(request.params.id))
    const { zone } = await readSettings(house.ledger)
    const names = hashes.map((hash) => ({ cameraId, hash: Buffer.from(hash, 'hex') }))
    const found = await findKnownStills(house.ledger, names)
    const known: CardKnown['known'] = []
    for (const [i, still] of found.entries()) {
      if (still === null) continue
      // A service that was killed may have written one down whose bytes it had let go of before: that one is sent.
      if (still.state === 'received' && (await house.files.read(names[i]!.hash)) === null) continue
      known.push({ hash: hashes[i]!, photo: takenPhotoOf(still, zone) })
    }
    response.json({ known } satisfies CardKnown)
  })

  router.post('/cameras/:id/card', async (request, response) => {
    const { zone } = await readSettings(house.ledger)
    const declared = declaredBytes(request)
    // Before its bytes are read: a photo over a slow link would come in vain.
    await house.room.refuseIfFull(declared ?? 0)
    const hold = house.receiving.hold(declared)
    try {
      const { photos } = await readPhotos(request, { hold, patienceMs: house.receiving.patienceMs })
      hold.cameWhole()
      const [photo] = photos
      if (photo === undefined || photos.length > 1) throw oneAtATime()
      const still = await takeFile(request, photo)
      response.status(still.known ? 200 : 201).json({ photo: takenPhotoOf(still, zone) })
    } finally {
      hold.release()
    }
  })

  async function takeFile(
    request: Request,
    { bytes, fileName }: { readonly bytes: Buffer; readonly fileName: string | null },
  ): Promise<ReceivedStill> {
    const camera = await findCamera(house.ledger, parseId(request.params.id))
    const written = request.get(FILE_TIME_HEADER)
    const began = performance.now()
    const still = await takeStill(house.sources.place.intake, {
      camera,
      bytes,
      fileName,
      fileTime: written === undefined ? null : (parse(fileTimeDoor, written, FILE_TIME_HEADER) as Instant),
      senderAt: null,
      byHand: true,
      arrivedAt: house.now(),
    })
    house.metrics.taken(still, (performance.now() - began) / 1000)
    return still
  }

  return router
}

function oneAtATime(): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: 'A file of a card comes as the body of a request, one at a time.',
    field: 'body',
    remedy: 'Send the file as it is, or use hooftally import.',
  })
}
