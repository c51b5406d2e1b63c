/** Clocks that look wrong only beside other photos: the light in them against the sun, and the order of a card's files. */
import { fileNameTime } from './intake/file-name-time.ts'
import type { CameraRow } from './store/cameras.ts'
import { doubtStills, lateFilesByCamera, latestLightOf, wasSaidRight } from './store/clock-suspects.ts'
import type { Ledger } from './store/open.ts'
import { findPoint } from './store/points.ts'
import { afterJumpBack } from './tally/clock-jumps.ts'
import { lightAgainstClock } from './tally/clock-light.ts'
import type { Instant } from './words.ts'

const JUMPED = 'the clock jumped back between two photos of the card'
const LIGHT = 'the light in the photos is not that of the hour the clock says'

/** Puts the photos of cards whose clock jumped back in doubt. @returns how many */
export async function doubtJumps(ledger: Ledger, now: Instant): Promise<number> {
  let doubted = 0
  for (const [cameraId, files] of await lateFilesByCamera(ledger, now)) {
    const stillIds = afterJumpBack(files, (name) => fileNameTime(name) !== null)
    doubted += await doubtStills(ledger, cameraId, { stillIds, why: JUMPED })
  }
  return doubted
}

/** Puts a camera's latest photos in doubt where their light speaks against the clock. @returns how many */
export async function doubtLight(ledger: Ledger, camera: CameraRow): Promise<number> {
  const point = await findPoint(ledger, camera.point_id)
  const photos = await latestLightOf(ledger, camera, point)
  const first = lightAgainstClock(photos)
  if (first === null || (await wasSaidRight(ledger, camera.id))) return 0
  const stillIds = photos.filter(({ at }) => at >= first.at).map(({ stillId }) => stillId)
  return await doubtStills(ledger, camera.id, { stillIds, why: LIGHT })
}
