/** The shapes of what comes in and goes out when a card is put in from the view. */
import { z } from 'zod'
import { sha256 } from './doors.ts'
import { takenPhotoShape } from './taken-photo.ts'

/** Of one question; a card of thousands is asked for in many. */
const MOST_HASHES = 500

/** POST /api/cameras/:id/card/known: SHA-256 of files, of which those that came before need not be sent. */
export const cardKnownDoor = z.strictObject({ hashes: z.array(sha256).min(1).max(MOST_HASHES) })

const FILE_TIME = { error: 'not milliseconds since 1970, as browsers tell a file’s date' }
/** POST /api/cameras/:id/card, header X-File-Time. Cards of before 1980 there are none. */
export const fileTimeDoor = z.coerce
  .number(FILE_TIME)
  .int(FILE_TIME)
  .min(0, FILE_TIME)
  .max(253_370_764_800_000, FILE_TIME)

export const cardKnownAnswer = z.object({
  /** In any order; hashes that are new are not in it. */
  known: z.array(z.object({ hash: z.string(), photo: takenPhotoShape })),
})
export type CardKnown = z.infer<typeof cardKnownAnswer>
export const cardPhotoAnswer = z.object({ photo: takenPhotoShape })
export type CardPhoto = z.infer<typeof cardPhotoAnswer>
