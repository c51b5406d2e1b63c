/** The demo's camel program, told from what truly came: whoever looks at the demo must find in it what it is said to hold. */
import { describe, expect, test } from 'vitest'
import { demoDays, demoSpell } from '../../../services/demo/days.ts'
import { TAKEN } from '../../../services/demo/outcomes.ts'
import { demoSchedule } from '../../../services/demo/schedule.ts'
import { demoStates } from '../../../services/demo/states.ts'
import { demoPoints, demoZone } from '../../../services/demo/station.ts'
import { DEFAULT_DAILY_RANGES } from '../../../services/planning/daily-ranges.ts'
import { didItWork, neighboursOf, type OutcomePoint } from '../../../services/planning/did-it-work.ts'
import { type Nights, workedSpells } from '../../../services/planning/worked-spells.ts'
import { dispersionOf } from '../../../services/tally/dispersion.ts'
import { nightOf, nightsBetween, previousNight } from '../../../services/tally/nights.ts'
import { PERIODS, visitsOf } from './period.ts'

const PROGRAM = 'stony-turkey-nest'
const ids = new Map(demoPoints.map(({ key }, i) => [key, i + 1]))
const places = demoPoints.map(({ key, lat, lon }) => ({ pointId: ids.get(key)!, lat, lon }))

const told = PERIODS.map((period) => {
  const schedule = demoSchedule(period)
  const nights = nightsBetween(
    nightOf(demoSpell(period).from, demoZone),
    previousNight(nightOf(period.now, demoZone)),
  )
  const visits = new Map(
    demoPoints.map(({ key }) => [
      ids.get(key)!,
      visitsOf(schedule, key, 'camel').map(([first]) => nightOf(first!.at, demoZone)),
    ]),
  )
  const trap = demoStates(period).filter(
    ({ pointKey, kind }) => pointKey === PROGRAM && kind.startsWith('trap'),
  )
  const at = (kind: string) => nightOf(trap.find((state) => state.kind === kind)!.at, demoZone)
  const { own, before, after } = workedSpells({
    program: { from: at('trap set'), to: previousNight(at('trap shut down')) },
    days: TAKEN.map(({ daysAgo }) => demoDays(period)[daysAgo]!.date),
    lastNightOver: nights.at(-1)!,
  })
  // Every night of the demo's past was watched at these points.
  const count = (id: number, span: Nights) => {
    const inSpan = nights.filter((night) => night >= span.from && night <= span.to)
    return {
      visits: visits.get(id)!.filter((night) => inSpan.includes(night)).length,
      watchedNights: inSpan.length,
    }
  }
  const point = (pointId: number): OutcomePoint => ({
    pointId,
    before: count(pointId, before),
    after: count(pointId, after!),
    lastYear: null,
  })
  const dispersion = dispersionOf(
    [...visits].flatMap(([pointId, its]) =>
      nights
        .filter((night) => night < own.from || night > own.to)
        .map((night) => ({ pointId, night, watched: 1, visits: its.filter((one) => one === night).length })),
    ),
  )
  const program = [ids.get(PROGRAM)!]
  const neighbours = neighboursOf(places, { program, rangeKm: DEFAULT_DAILY_RANGES.camel.km })
  return {
    seed: period.seed,
    now: period.now,
    worked: didItWork(program.map(point), neighbours.map(point), dispersion!.factor),
  }
})

describe('the program at Stony Turkey Nest', () => {
  test.each(told)('fell there and rose next door, at Kite Bore (now $now, seed $seed)', ({ worked }) => {
    expect(worked.says).toBe('fewer here, more next door')
    const kite = worked.neighbourPoints.find(({ pointId }) => pointId === ids.get('kite-bore'))
    expect(kite!.verdict).toBe('more')
  })
})
