/** Corella Reach Station: invented, like its points, its cameras and everything that happens there. */
import type { z } from 'zod'
import type { cameraDoor, pointDoor, stationDoor } from '../http/doors.ts'
import { toStationTime } from '../station-time.ts'
import type { Instant, PointKind, Zone } from '../words.ts'

export const demoZone = 'Australia/Adelaide' as Zone
export const demoHomestead = { lat: -28.4, lon: 134.2 } as const

/** As the station door takes it; species and thresholds stay as a new station has them. */
export const demoStation: z.input<typeof stationDoor> = {
  name: 'Corella Reach Station',
  zone: demoZone,
  homestead: demoHomestead,
}

export interface DemoPoint {
  /** Begins the names of the point's stills. */
  readonly key: string
  readonly name: string
  readonly kind: PointKind
  readonly lat: number
  readonly lon: number
  readonly hasYard: boolean
  /** The morning's round, from the homestead and back to it. */
  readonly runOrder: number
  readonly camera: DemoCamera
}

/** The one camera of a point, named like the point. */
export interface DemoCamera {
  readonly name: string
  /** Added to what the camera's clock says gives true time. The station does not know it: it is there to be found and put right. */
  readonly clockErrorSeconds: number
  /** True for a camera that writes its offset from UTC into EXIF. */
  readonly writesOffset: boolean
}

interface Sketch {
  readonly name: string
  readonly kind: DemoPoint['kind']
  readonly eastKm: number
  readonly northKm: number
  readonly hasYard?: boolean
  readonly camera?: Partial<DemoCamera>
}

const DAY_AHEAD = { clockErrorSeconds: -86_400 }
const WITH_OFFSET = { writesOffset: true }

/** In run order. */
const SKETCHES: readonly Sketch[] = [
  { name: 'Old Garden Trough', kind: 'trough', eastKm: 1, northKm: -2, hasYard: true },
  { name: 'Kite Bore', kind: 'bore', eastKm: 4, northKm: 3, hasYard: true, camera: WITH_OFFSET },
  { name: 'Pigeon Soak', kind: 'soak', eastKm: 14, northKm: 19 },
  { name: 'Stony Turkey Nest', kind: 'turkey nest', eastKm: 21, northKm: 6 },
  { name: 'Windlass Well', kind: 'well', eastKm: 27, northKm: -15, camera: WITH_OFFSET },
  { name: 'Galah Well', kind: 'well', eastKm: 11, northKm: -8, hasYard: true },
  { name: 'Ironbark Dam', kind: 'dam', eastKm: -7, northKm: -14, camera: DAY_AHEAD },
  { name: 'Snakewood Bore', kind: 'bore', eastKm: -24, northKm: -3, hasYard: true },
  { name: 'Twelve Mile Tank', kind: 'tank', eastKm: -16, northKm: 9 },
  { name: 'Lantern Bore', kind: 'bore', eastKm: -11, northKm: 22, camera: WITH_OFFSET },
]

/** Mean radius 6,371.0088 km (IUGG). */
const KM_PER_DEGREE = (6371.0088 * Math.PI) / 180

export const demoPoints: readonly DemoPoint[] = SKETCHES.map((sketch, index) => ({
  key: sketch.name.toLowerCase().replaceAll(' ', '-'),
  name: sketch.name,
  kind: sketch.kind,
  lat: degrees(demoHomestead.lat + sketch.northKm / KM_PER_DEGREE),
  lon: degrees(
    demoHomestead.lon + sketch.eastKm / (KM_PER_DEGREE * Math.cos((demoHomestead.lat * Math.PI) / 180)),
  ),
  hasYard: sketch.hasYard ?? false,
  runOrder: index + 1,
  camera: { name: sketch.name, clockErrorSeconds: 0, writesOffset: false, ...sketch.camera },
}))

/** Five decimals: a metre. */
function degrees(value: number): number {
  return Math.round(value * 1e5) / 1e5
}

/** The demo's point of this key. @throws RangeError when there is none */
export function demoPoint(key: string): DemoPoint {
  const point = demoPoints.find((one) => one.key === key)
  if (point === undefined) throw new RangeError(`the demo station has no point ${key}`)
  return point
}

/** The point as the points' door takes it. */
export function demoPointInput({ name, kind, lat, lon, hasYard, runOrder }: DemoPoint) {
  return { name, kind, lat, lon, hasYard, runOrder } satisfies z.input<typeof pointDoor>
}

/** The camera as the cameras' door takes it, put up at `since`; all of them send a daily heartbeat. */
export function demoCameraInput(
  { camera }: DemoPoint,
  { pointId, since }: { pointId: number; since: Instant },
) {
  return {
    name: camera.name,
    pointId,
    sendsHeartbeats: true,
    since: toStationTime(since, demoZone),
  } satisfies z.input<typeof cameraDoor>
}
