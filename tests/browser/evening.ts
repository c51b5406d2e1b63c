/** An evening's visits written into the ledger of a service under test: made-up findings, pictures of the demo's stills. */
import { createHash } from 'node:crypto'
import { withExif } from '../../services/demo/exif-segment.ts'
import { parseInstant } from '../../services/station-time.ts'
import { receiveStills } from '../../services/store/receive.ts'
import { nightOf } from '../../services/tally/nights.ts'
import type { Instant, Tally, Zone } from '../../services/words.ts'
import { plainPhoto } from '../integration/photos.ts'
import type { SetUpCamera, TestService } from '../integration/service.ts'
import { record } from '../integration/small-station.ts'
import { addPointWithCamera } from '../integration/station.ts'

export const NIGHT = '2026-11-24'
const NOON = parseInstant('2026-11-24T12:10:00+10:30')
const ZONE = 'Australia/Adelaide' as Zone
const MINUTE_MS = 60_000
/** Further apart than the gap of half an hour. */
const BETWEEN_VISITS_MINUTES = 90
const VISITS_A_POINT = 12
const STILLS_A_VISIT = 3
const FERAL: readonly Tally[] = [
  { camel: 3 },
  { donkey: 2 },
  { horse: 1 },
  { camel: 1, cattle: 2 },
  { goat: 4 },
]
const SOURCES = ['galah-well-08.jpg', 'kite-bore-09.jpg', 'snakewood-bore-09.jpg', 'kite-bore-03.jpg']

/** So many visits of feral animals, three photos each, and as many plain ones of cattle as said; all surely found. */
export async function fillEvening(
  service: TestService,
  { feral, plain = 0 }: { readonly feral: number; readonly plain?: number },
): Promise<void> {
  const tallies = [
    ...Array.from({ length: feral }, (_, i) => FERAL[i % FERAL.length]!),
    ...Array.from({ length: plain }, () => ({ cattle: 5 })),
  ]
  let camera: SetUpCamera | null = null
  for (const [visit, tally] of tallies.entries()) {
    const ofPoint = visit % VISITS_A_POINT
    if (ofPoint === 0 || camera === null) {
      camera = await addPointWithCamera(
        service,
        { name: `Bore ${visit / VISITS_A_POINT + 1}` },
        { name: `camera ${visit}` },
      )
    }
    for (let still = 0; still < STILLS_A_VISIT; still += 1) {
      const at = (NOON + (ofPoint * BETWEEN_VISITS_MINUTES + still * 5) * MINUTE_MS) as Instant
      await putStill(service, { camera, at, tally, source: SOURCES[visit % SOURCES.length]! })
    }
  }
}

async function putStill(
  service: TestService,
  {
    camera,
    at,
    tally,
    source,
  }: { readonly camera: SetUpCamera; readonly at: Instant; readonly tally: Tally; readonly source: string },
): Promise<void> {
  const { ledger, files } = service.house
  const bytes = withExif(await plainPhoto(source), {
    dateTimeOriginal: new Date(at).toISOString().slice(0, 19).replaceAll('-', ':').replace('T', ' '),
    offsetTimeOriginal: '+00:00',
    imageUniqueId: createHash('sha256').update(`${camera.id} ${at}`).digest('hex').slice(0, 32),
  })
  const hash = createHash('sha256').update(bytes).digest()
  await files.keep(hash, bytes)
  const [received] = await receiveStills(ledger, [
    {
      cameraId: camera.id,
      pointId: camera.pointId,
      hash,
      bytes: bytes.length,
      format: 'jpeg',
      width: 960,
      height: 540,
      fileName: null,
      takenAt: at,
      takenFrom: 'exif with offset',
      clockDoubt: null,
      night: nightOf(at, ZONE),
      receivedAt: at,
      unreadableReason: null,
    },
  ])
  await record({ ledger }, received!.id, tally)
}
