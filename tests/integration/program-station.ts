/** A ledger, and a service over it, with weeks of made-up findings: camels and what else comes to some points. */

import { createHash } from 'node:crypto'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { parseInstant } from '../../services/station-time.ts'
import { addCamera } from '../../services/store/camera-setup.ts'
import { addPoint } from '../../services/store/points.ts'
import { receiveStills } from '../../services/store/receive.ts'
import type { StillFiles } from '../../services/store/still-files.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import { nightOf } from '../../services/tally/nights.ts'
import type { Instant, Tally } from '../../services/words.ts'
import { openService, type TestService } from './service.ts'
import { openSmallStation, record, type SmallStation, zone } from './small-station.ts'

const DAY_MS = 86_400_000
const HOUR_MS = 3_600_000
/** The noon that begins the last night that is over at MORNING (service.ts) less a day. */
const NOON = parseInstant('2026-11-23T12:00:00+10:30')

/** A photo at so many nights before that of 23 November, at this hour after its noon. */
export interface Came {
  readonly nightsBack: number
  readonly hoursAfterNoon: number
  readonly tally: Tally
}

export interface MadeUpPoint {
  readonly name: string
  readonly lat: number
  readonly lon: number
  readonly hasYard?: boolean
  readonly came: readonly Came[]
}

export interface ProgramLedger {
  readonly ledger: SmallStation['ledger']
  readonly url: string
  /** Its photos lie in it. */
  readonly dataFolder: string
  readonly idOf: (name: string) => number
  /** Ids of the photos. */
  come(pointName: string, came: readonly Came[]): Promise<number[]>
  close(): Promise<void>
}

/** Each point with a camera that sends no heartbeats, so that it watches from its first photo to its last. */
export async function openProgramLedger(points: readonly MadeUpPoint[]): Promise<ProgramLedger> {
  const station = await openSmallStation()
  const { ledger } = station
  const dataFolder = await mkdtemp(join(tmpdir(), 'hooftally-programs-'))
  const files = await openStillFolder(join(dataFolder, 'stills'))
  const ids = new Map([['First Bore', { pointId: station.pointId, cameraId: station.cameraIds[1] }]])
  const come: ProgramLedger['come'] = async (name, came) => {
    const { pointId, cameraId } = ids.get(name)!
    const stills = await Promise.all(
      came.map(async ({ nightsBack, hoursAfterNoon }) => {
        const at = (NOON - nightsBack * DAY_MS + hoursAfterNoon * HOUR_MS) as Instant
        return { at, hash: await keepPhoto(files, `${pointId} ${at}`) }
      }),
    )
    const received = await receiveStills(
      ledger,
      stills.map(({ at, hash }) => ({
        ...{ cameraId, pointId, hash, bytes: 1_000, format: 'jpeg', width: 64, height: 36, fileName: null },
        ...{ takenAt: at, takenFrom: 'exif', clockDoubt: null, night: nightOf(at, zone), receivedAt: at },
        unreadableReason: null,
      })),
    )
    for (const [i, { id }] of received.entries()) await record(station, id, came[i]!.tally)
    return received.map(({ id }) => id)
  }
  for (const [i, { name, lat, lon, hasYard = false, came }] of points.entries()) {
    const point = await addPoint(ledger, {
      ...{ name, kind: 'bore', lat, lon, hasYard, lowMarkPercent: 40, dryMarkPercent: 5 },
    })
    const { camera } = await addCamera(
      ledger,
      {
        ...{ name: `camera ${i}`, pointId: point.id, zone: null, clockErrorSeconds: 0 },
        ...{ expectedSilenceHours: 26, sendsHeartbeats: false, scheduleMinutes: null },
      },
      null,
    )
    ids.set(name, { pointId: point.id, cameraId: camera.id })
    if (came.length > 0) await come(name, came)
  }
  return {
    ledger,
    url: station.url,
    dataFolder,
    idOf: (name) => ids.get(name)!.pointId,
    come,
    async close() {
      files.close()
      await station.close()
      await rm(dataFolder, { recursive: true, force: true })
    },
  }
}

/** A small picture of its own for each name. */
async function keepPhoto(files: StillFiles, name: string): Promise<Buffer> {
  const [red, green, blue] = createHash('sha256').update(name).digest()
  const background = { r: red!, g: green!, b: blue! }
  const bytes = await sharp({ create: { width: 64, height: 36, channels: 3, background } })
    .withExif({ IFD0: { ImageDescription: name } })
    .jpeg()
    .toBuffer()
  const hash = createHash('sha256').update(bytes).digest()
  await files.keep(hash, bytes)
  return hash
}

export interface ProgramStation extends Omit<ProgramLedger, 'come' | 'close'> {
  readonly service: TestService
  stop(): Promise<void>
}

/** The same with a service over it, whose eye would look at what comes in later: everything came before. */
export async function openProgramStation(points: readonly MadeUpPoint[]): Promise<ProgramStation> {
  const made = await openProgramLedger(points)
  const service = await openService({ config: { databaseUrl: made.url, dataFolder: made.dataFolder } })
  return {
    ...made,
    service,
    async stop() {
      await service.stop()
      await made.close()
    },
  }
}

const NIGHTS = 28

/** A visit every so many nights over four weeks up to the last, and a photo of nothing at both ends of them. */
export const everyNights = (step: number, tally: Tally, hoursAfterNoon = 9): Came[] => [
  { nightsBack: NIGHTS, hoursAfterNoon: 1, tally: {} },
  ...Array.from({ length: Math.ceil(NIGHTS / step) }, (_, i) => ({
    nightsBack: i * step,
    hoursAfterNoon,
    tally,
  })),
  { nightsBack: 0, hoursAfterNoon: 23.9, tally: {} },
]
