/** A photo that just came in, for who watches it come. */
import { z } from 'zod'
import { toStationTime } from '../station-time.ts'
import type { ReceivedStill } from '../store/receive.ts'
import type { Zone } from '../words.ts'
import { smallUrl } from './answers.ts'
import { stillShape } from './shapes.ts'

export const takenPhotoShape = z.object({
  ...stillShape.pick({
    id: true,
    state: true,
    reason: true,
    takenAt: true,
    takenFrom: true,
    clockDoubt: true,
    smallUrl: true,
  }).shape,
  /** The same bytes from the same camera had come before. */
  known: z.boolean(),
})
export type TakenPhoto = z.infer<typeof takenPhotoShape>

export function takenPhotoOf(still: ReceivedStill, zone: Zone): TakenPhoto {
  const { id, state, reason, takenAt, takenFrom, clockDoubt, known } = still
  return {
    ...{ id, state, reason, takenAt: toStationTime(takenAt, zone), takenFrom, clockDoubt, known },
    smallUrl: smallUrl(id),
  }
}
