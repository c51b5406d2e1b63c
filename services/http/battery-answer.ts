/** What is to be known of cameras' batteries, as the API tells it. */
import { type CameraBatteryDays, listBatteryDays, utcDayOf } from '../store/battery-days.ts'
import type { Ledger } from '../store/open.ts'
import { BATTERY_DAYS_BACK, batteryOutlook, tellingDays } from '../tally/battery-fall.ts'
import { stationDate } from '../tally/station-days.ts'
import type { Instant, Zone } from '../words.ts'
import type { Battery } from './battery-shapes.ts'
import type { WaterRunRow } from './shapes.ts'

const DAY_MS = 86_400_000
const HALF_DAY_MS = DAY_MS / 2

export async function batteriesOf(
  ledger: Ledger,
  {
    now,
    zone,
    pointId,
  }: {
    readonly now: Instant
    readonly zone: Zone
    /** Of one point alone. */
    readonly pointId?: number | undefined
  },
): Promise<Battery[]> {
  const today = utcDayOf(now)
  const cameras = await listBatteryDays(ledger, { afterDay: today - BATTERY_DAYS_BACK, pointId })
  return cameras.map((camera) => batteryOf(camera, { today, zone }))
}

function batteryOf(
  { cameraId, cameraName, pointId, days }: CameraBatteryDays,
  { today, zone }: { readonly today: number; readonly zone: Zone },
): Battery {
  const outlook = batteryOutlook(days, today)
  // A day of UTC is named by the station's date at its middle.
  const dateOf = (day: number) => stationDate((Math.floor(day) * DAY_MS + HALF_DAY_MS) as Instant, zone)
  const last = tellingDays(days, today).at(-1)!
  const about = { cameraId, cameraName, pointId, percent: last.lowestPercent, on: dateOf(last.day) }
  if (outlook.kind !== 'falls')
    return {
      ...about,
      flat: null,
      isFlat: outlook.kind === 'flat',
      because: outlook.kind === 'refused' ? outlook.because : null,
    }
  return {
    ...about,
    isFlat: false,
    because: null,
    flat: {
      on: dateOf(outlook.flatDay),
      soonest: dateOf(outlook.soonestDay),
      latest: outlook.latestDay === null ? null : dateOf(outlook.latestDay),
      inDays: Math.floor(outlook.flatDay) - today,
      percentADay: Math.round(outlook.percentADay * 100) / 100,
      days: outlook.days,
    },
  }
}

/** Long enough to bring a battery along on the next round. */
const SOON_DAYS = 14

/** Those at a point that are flat, or will be within two weeks; the soonest first. */
export function soonFlat(batteries: readonly Battery[], pointId: number): WaterRunRow['batteries'] {
  return batteries
    .filter(
      (one) => one.pointId === pointId && (one.isFlat || (one.flat?.inDays ?? SOON_DAYS + 1) <= SOON_DAYS),
    )
    .map(({ cameraName, percent, flat }) => ({
      cameraName,
      percent,
      on: flat?.on ?? null,
      inDays: flat?.inDays ?? 0,
    }))
    .toSorted((a, b) => a.inDays - b.inDays)
}
