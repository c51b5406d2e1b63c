/** The daily heartbeats of the demo's cameras: what says that a camera watched where nothing came. */
import type { Instant } from '../words.ts'
import { clockOn, type DemoPeriod, demoDays, demoSpell } from './days.ts'
import { CAMERA_DOWN } from './habits.ts'
import { cameraDown } from './schedule.ts'
import { demoPoints } from './station.ts'

export interface DemoHeartbeat {
  readonly pointKey: string
  /** True time: whoever takes a heartbeat goes by its own clock. */
  readonly at: Instant
  readonly batteryPercent: number
  /** Of its card. */
  readonly freeBytes: number
}

/** Cameras report before the day's heat, some minutes apart, so that no two wait for one line. */
const FIRST_HOUR = 5
const MINUTES_APART = 4

/** One heartbeat a day and camera, newest first, none after `now`, and none while a camera was down. */
export function demoHeartbeats(period: DemoPeriod): readonly DemoHeartbeat[] {
  const { from, to } = demoSpell(period)
  const down = cameraDown(period.now)
  return demoDays(period)
    .flatMap(({ date }) =>
      demoPoints.map(({ key }, index) => ({
        pointKey: key,
        at: clockOn(date, FIRST_HOUR, index * MINUTES_APART),
      })),
    )
    .map((beat) => ({
      ...beat,
      batteryPercent: batteryPercent(beat, period.now),
      freeBytes: freeBytes(beat.at, period.now),
    }))
    .filter(({ at }) => at >= from && at <= to)
    .filter(({ pointKey, at }) => pointKey !== CAMERA_DOWN.pointKey || at < down.from || at >= down.to)
    .sort((a, b) => b.at - a.at || a.pointKey.localeCompare(b.pointKey))
}

/** Left in the camera whose battery runs down, at the end of the past; it lost so much a day. */
const RUNS_DOWN = { pointKey: 'lantern-bore', leftPercent: 33, percentADay: 1.6 }
const MS_PER_DAY = 86_400_000

/** The others are charged by the sun and stay full, a little less after some days than after others. */
function batteryPercent(
  { pointKey, at }: { readonly pointKey: string; readonly at: Instant },
  now: Instant,
): number {
  const daysAgo = Math.max(0, Math.round((now - at) / MS_PER_DAY))
  const wobble = (daysAgo * 7 + pointKey.length) % 5
  if (pointKey !== RUNS_DOWN.pointKey) return 93 + wobble
  return Math.min(100, Math.round(RUNS_DOWN.leftPercent + RUNS_DOWN.percentADay * daysAgo) + (wobble % 2))
}

/** A card of 32 GB that nobody has emptied for a while; photos take some tens of megabytes a day. */
const CARD_LEFT_BYTES = 21e9
const BYTES_A_DAY = 45e6

function freeBytes(at: Instant, now: Instant): number {
  return CARD_LEFT_BYTES + BYTES_A_DAY * Math.max(0, Math.round((now - at) / MS_PER_DAY))
}
