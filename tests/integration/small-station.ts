/** A small invented station in a fresh database, and stills with made-up findings: for tests of the ledger alone. */
import { createHash } from 'node:crypto'
import { addCamera } from '../../services/store/camera-setup.ts'
import { type Ledger, openLedger } from '../../services/store/open.ts'
import { addPoint } from '../../services/store/points.ts'
import { type ReceivedStill, receiveStills } from '../../services/store/receive.ts'
import { type Result, recordResult } from '../../services/store/results.ts'
import { saveSettings } from '../../services/store/settings.ts'
import { nightOf } from '../../services/tally/nights.ts'
import type { Instant, Species, Tally, Zone } from '../../services/words.ts'
import { freshDatabase } from './fresh-database.ts'

export const zone = 'Australia/Adelaide' as Zone
export const models = {
  name: 'made-up',
  version: '1',
  detectorSha256: 'd'.repeat(64),
  namerSha256: 'n'.repeat(64),
}

export interface SmallStation {
  readonly ledger: Ledger
  readonly pointId: number
  /** The first sends heartbeats, the second does not. Both stand at the same point. */
  readonly cameraIds: readonly [number, number]
  close(): Promise<void>
}

/** `url`: of its database. */
export async function openSmallStation(): Promise<SmallStation & { readonly url: string }> {
  const database = await freshDatabase()
  const ledger = await openLedger(database.url)
  await saveSettings(
    ledger,
    {
      name: 'Test Station',
      zone,
      homestead: { lat: -28, lon: 134 },
      visitGapMinutes: 30,
      cattleAwayHours: 72,
      species: [],
    },
    { count: 0.5, flag: 0.35 },
  )
  const point = await addPoint(ledger, {
    name: 'First Bore',
    kind: 'bore',
    lat: -28.1,
    lon: 134.1,
    hasYard: false,
    lowMarkPercent: 40,
    dryMarkPercent: 5,
  })
  const camera = (name: string, sendsHeartbeats: boolean) =>
    addCamera(
      ledger,
      {
        name,
        pointId: point.id,
        zone: null,
        clockErrorSeconds: 0,
        expectedSilenceHours: 26,
        sendsHeartbeats,
        scheduleMinutes: null,
      },
      null,
    )
  const first = await camera('first', true)
  const second = await camera('second', false)
  return {
    ledger,
    url: database.url,
    pointId: point.id,
    cameraIds: [first.camera.id, second.camera.id],
    async close() {
      await ledger.destroy()
      await database.drop()
    },
  }
}

export interface SmallStill {
  /** Stands for its bytes. */
  readonly name: string
  readonly cameraId: number
  readonly at: Instant
  readonly clockDoubt?: string
  readonly fileName?: string
  /** As soon as it was taken unless said. */
  readonly receivedAt?: Instant
  /** Of its camera's times, as it was placed by. */
  readonly timesVersion?: number
}

/** Receives a still; gives its id. */
export async function receive(station: SmallStation, still: SmallStill): Promise<number> {
  const [received] = await receiveAll(station, [still])
  return received!.id
}

/** Receives stills in one go. */
export function receiveAll(
  { ledger, pointId }: Pick<SmallStation, 'ledger' | 'pointId'>,
  stills: readonly SmallStill[],
): Promise<ReceivedStill[]> {
  return receiveStills(
    ledger,
    stills.map((still) => ({
      cameraId: still.cameraId,
      pointId,
      hash: createHash('sha256').update(still.name).digest(),
      bytes: still.name.length,
      format: 'jpeg',
      width: 640,
      height: 360,
      fileName: still.fileName ?? null,
      takenAt: still.at,
      takenFrom: 'exif',
      clockDoubt: still.clockDoubt ?? null,
      night: nightOf(still.at, zone),
      receivedAt: still.receivedAt ?? still.at,
      unreadableReason: null,
      ...(still.timesVersion !== undefined && { timesVersion: still.timesVersion }),
    })),
  )
}

/** Records that so many of each species were found, well apart and surely named. */
export async function record(
  { ledger }: Pick<SmallStation, 'ledger'>,
  stillId: number,
  tally: Tally,
  score = 0.9,
) {
  return await recordResult(ledger, stillId, seen(tally, score))
}

/** So many of each species, well apart and surely named. */
export function seen(tally: Tally, score = 0.9): Result {
  const found = (Object.entries(tally) as Array<[Species, number]>).flatMap(([species, head], row) =>
    Array.from({ length: head }, (_, column) => ({
      species,
      score,
      runnerUp: 0.01,
      box: [column * 60, row * 60, column * 60 + 40, row * 60 + 40] as const,
      detector: [0.9, 0.1, 0.1, 0.1, 0.1, 0.1],
      namer: [0.9, 0.02, 0.02, 0.02, 0.02, 0.02],
      embedding: new Float32Array(1280).fill(0.5),
    })),
  )
  return { kind: 'seen', width: 640, height: 360, found, models }
}
