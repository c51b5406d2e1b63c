/** The demo's past as a list: which still came from which camera at which moment. Pure, and the same for the same seed. */
import { nightSpell } from '../tally/nights.ts'
import type { Instant, Spell } from '../words.ts'
import { type DemoDay, demoDays, demoSpell, nightsBack } from './days.ts'
import {
  BREAKAGES,
  type Breakage,
  CAMERA_DOWN,
  HABITS,
  type Habit,
  OTHERS_WEEKLY,
  WIND_WEEKLY,
} from './habits.ts'
import { type Hours, momentIn } from './hours.ts'
import type { PooledStill } from './pool.ts'
import { type Random, randomFor } from './random.ts'
import { demoPoints, demoZone } from './station.ts'
import { visitStills } from './visit-stills.ts'

export interface DemoStill {
  readonly pointKey: string
  /** True time; the camera's clock may say another. */
  readonly at: Instant
  /** File in the demo's stills folder that it is made from. */
  readonly source: string
  /** How it came to be unreadable, or null. */
  readonly broken: Breakage | null
}

export interface DemoPlan {
  readonly now: Instant
  /** Nights back from the one `now` falls in, that one included. */
  readonly nights: number
  readonly seed: number
  readonly pool: readonly PooledStill[]
}

const DAYS_PER_WEEK = 7
const DAY_MS = 86_400_000
/** Every still of the demo's past, newest first, no two of a camera at one second, none after `now`. */
export function demoSchedule(plan: DemoPlan): readonly DemoStill[] {
  const days = demoDays(plan)
  const weeks = inWeeks(days)
  const spell = demoSpell(plan)
  const stills = [
    ...HABITS.flatMap((habit) => visitsOf(habit, weeks, plan)),
    ...demoPoints.flatMap(({ key }) => [
      ...lonely(key, 'wind', weeks, plan),
      ...lonely(key, 'others', weeks, plan),
    ]),
    ...breakages(days, plan),
  ]
  const down = cameraDown(plan.now)
  return apart(stills)
    .filter(({ at }) => at >= spell.from && at <= spell.to)
    .filter(({ pointKey, at }) => pointKey !== CAMERA_DOWN.pointKey || at < down.from || at >= down.to)
    .sort((a, b) => b.at - a.at || a.pointKey.localeCompare(b.pointKey))
}

/** The two nights in which one camera neither took stills nor spoke. */
export function cameraDown(now: Instant): Spell {
  return {
    from: nightSpell(nightsBack(now, CAMERA_DOWN.firstNightBack), demoZone).from,
    to: nightSpell(nightsBack(now, CAMERA_DOWN.lastNightBack), demoZone).to,
  }
}

function visitsOf(habit: Habit, weeks: readonly Week[], plan: DemoPlan): DemoStill[] {
  const random = randomFor(plan.seed, `${habit.pointKey}/${habit.species}`)
  const fitting = plan.pool.filter((still) => fits(still, habit))
  const goneSince = plan.now - (habit.goneForDays ?? 0) * DAY_MS
  const startOfDeck = random.whole(0, 2)
  return weeks
    .flatMap((week, weeksAgo) =>
      daysOfVisits(week, habit.weekly[weeksAgo] ?? habit.weekly.at(-1) ?? 0, random),
    )
    .flatMap((day, index) => {
      // One visit in three is long, dealt like cards rather than tossed like coins, so that the total stays close.
      const isLong = (index + startOfDeck) % 3 === 0
      const length = isLong ? random.whole(3, 4) : random.whole(1, 2)
      return visitStills({ start: momentIn(habit.hours, day, random), length, fitting, random })
    })
    .map((still): DemoStill => ({ ...still, pointKey: habit.pointKey, broken: null }))
    .filter(({ at }) => habit.goneForDays === undefined || at < goneSince)
}

function fits(still: PooledStill, { pointKey, species, amongCattle }: Habit): boolean {
  if (still.pointKey !== pointKey || still.hasOther || !still.species.has(species)) return false
  return [...still.species].every((one) => one === species || (one === 'cattle' && amongCattle === true))
}

/** Single stills that are no visit: nothing there but wind, or an animal that is not counted. */
function lonely(
  pointKey: string,
  what: 'wind' | 'others',
  weeks: readonly Week[],
  { seed, pool }: Pick<DemoPlan, 'seed' | 'pool'>,
): DemoStill[] {
  const random = randomFor(seed, `${pointKey}/${what}`)
  const fitting = pool.filter(
    (still) =>
      still.pointKey === pointKey && still.species.size === 0 && still.hasOther === (what === 'others'),
  )
  // Wind knows no hours; of other animals a point has one still, by day or by night.
  const hours: Hours =
    what === 'wind' ? 'day or night' : fitting[0]?.light === 'night' ? 'after dark' : 'by day'
  const weekly = what === 'wind' ? WIND_WEEKLY : OTHERS_WEEKLY
  return weeks
    .flatMap((week) => daysOfVisits(week, weekly, random))
    .flatMap((day) => visitStills({ start: momentIn(hours, day, random), length: 1, fitting, random }))
    .map((still) => ({ ...still, pointKey, broken: null }))
}

function breakages(days: readonly DemoDay[], { seed, pool }: DemoPlan): DemoStill[] {
  return BREAKAGES.flatMap(({ pointKey, daysAgo, how }) => {
    const day = days[daysAgo]
    if (day === undefined) return []
    const random = randomFor(seed, `${pointKey}/broken/${daysAgo}`)
    const fitting = pool.filter((still) => still.pointKey === pointKey && still.species.has('cattle'))
    return visitStills({ start: momentIn('by day', day, random), length: 1, fitting, random }).map(
      (still) => ({
        ...still,
        pointKey,
        broken: how,
      }),
    )
  })
}

type Week = readonly (DemoDay | null)[]

/** Seven days each, newest first; null where the past had not begun, so that a week cut off keeps its share of visits. */
function inWeeks(days: readonly DemoDay[]): readonly Week[] {
  const count = Math.ceil(days.length / DAYS_PER_WEEK)
  return Array.from({ length: count }, (_, weeksAgo) =>
    Array.from({ length: DAYS_PER_WEEK }, (_, i) => days[weeksAgo * DAYS_PER_WEEK + i] ?? null),
  )
}

/** As many days of the week as there are visits, less those before the past began. */
function daysOfVisits(week: Week, weekly: number, random: Random): DemoDay[] {
  return random.sample(week, random.round(weekly)).filter((day) => day !== null)
}

/** Two stills of one camera in one second would carry the same time and, from one source, be the same bytes. */
function apart(stills: readonly DemoStill[]): DemoStill[] {
  const taken = new Set<string>()
  return stills.map((still) => {
    let { at } = still
    while (taken.has(`${still.pointKey}/${at}`)) at = (at + 1000) as Instant
    taken.add(`${still.pointKey}/${at}`)
    return { ...still, at }
  })
}
