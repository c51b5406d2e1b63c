/** A flat battery is foretold from its fall, or it is said why not. */
import { describe, expect, test } from 'vitest'
import { batteryOutlook, FLAT_PERCENT } from '../../../services/tally/battery-fall.ts'
import { chanceFrom } from './chance.ts'

const TODAY = 20_782
/** The last readings, the last of them today's. */
const days = (...percents: number[]) =>
  percents.map((lowestPercent, i) => ({ day: TODAY - percents.length + 1 + i, lowestPercent }))
const because = (...percents: number[]) => {
  const outlook = batteryOutlook(days(...percents), TODAY)
  return outlook.kind === 'refused' ? outlook.because : outlook.kind
}

describe('a battery that falls', () => {
  test('steadily by 2 % a day, 30 % today: flat in five days', () => {
    const outlook = batteryOutlook(days(44, 42, 40, 38, 36, 34, 32, 30), TODAY)
    expect(outlook).toMatchObject({ kind: 'falls', percentADay: 2, flatDay: TODAY + 5, days: 8 })
  })
  test('with noise: the day stands between its soonest and its latest', () => {
    const outlook = batteryOutlook(days(60, 57, 57, 53, 52, 49, 48, 44, 43, 40), TODAY)
    if (outlook.kind !== 'falls') throw new Error(outlook.kind)
    expect(outlook.soonestDay).toBeLessThan(outlook.flatDay)
    expect(outlook.latestDay).toBeGreaterThan(outlook.flatDay)
    expect(outlook.flatDay - TODAY).toBeGreaterThan(7)
    expect(outlook.flatDay - TODAY).toBeLessThan(11)
  })
  test('one odd reading among them changes nothing', () => {
    const odd = batteryOutlook(days(44, 42, 40, 97, 36, 34, 32, 30), TODAY)
    // The odd one looks like a charge, and what comes after it like a fall from there.
    expect(odd.kind).not.toBe('flat')
    const low = batteryOutlook(days(44, 42, 40, 25, 36.5, 34, 32, 30), TODAY)
    expect(low).toMatchObject({ kind: 'falls' })
  })
  test('days without a reading are no days of rest', () => {
    const gaps = days(50, 48, 46, 44, 42, 40, 38, 36, 34, 32, 30).filter((_, i) => i % 2 === 0)
    expect(batteryOutlook(gaps, TODAY)).toMatchObject({ kind: 'falls', percentADay: 2, flatDay: TODAY + 5 })
  })
  test('since it was charged: what was before says nothing', () => {
    const outlook = batteryOutlook(days(40, 30, 25, 98, 96, 94, 92, 90, 88), TODAY)
    expect(outlook).toMatchObject({
      kind: 'falls',
      percentADay: 2,
      flatDay: TODAY + (88 - FLAT_PERCENT) / 2,
      days: 6,
    })
  })
  test('an afternoon in the sun is no charge: the running day tells only where it is no higher', () => {
    const outlook = batteryOutlook(days(44, 42, 40, 38, 36, 34, 97), TODAY)
    expect(outlook).toMatchObject({ kind: 'falls', percentADay: 2, flatDay: TODAY + 6, days: 6 })
  })
  test('already flat is said at once, from one reading', () => {
    expect(batteryOutlook(days(20), TODAY)).toEqual({ kind: 'flat', percent: 20 })
  })
})

describe('refused in words', () => {
  test.each([
    [[], 'It tells no charge.'],
    [
      [80, 78, 76, 74],
      'Too few days to tell: 4 with a reading since it was put in or charged, 5 are needed.',
    ],
    [[25, 98, 96], 'Too few days to tell: 2 with a reading since it was put in or charged, 5 are needed.'],
    [[90, 92, 89, 91, 90, 92, 88, 91], 'It does not surely fall.'],
    [[70, 72, 75, 77, 80, 81], 'It does not surely fall.'],
    [[80, 80, 80, 80, 80, 80], 'It does not surely fall.'],
    [[99, 98.8, 98.6, 98.4, 98.2, 98, 97.8], 'It falls so slowly that it lasts over 60 days.'],
  ])('%j', (percents, words) => expect(because(...percents)).toBe(words))

  test('silent for four days: nobody knows what it did since', () => {
    expect(batteryOutlook(days(50, 48, 46, 44, 42, 40), TODAY + 4)).toEqual({
      kind: 'refused',
      because: 'It has told no charge for 4 days.',
    })
  })
})

test('of batteries that do not fall few are said to; of those that do the day is right within its limits', () => {
  const chance = chanceFrom(11)
  let alarms = 0
  let right = 0
  let told = 0
  const RUNS = 600
  for (let run = 0; run < RUNS; run += 1) {
    const still = days(...Array.from({ length: 14 }, () => Math.round(70 + 4 * chance.normal())))
    if (batteryOutlook(still, TODAY).kind === 'falls') alarms += 1
    const fall = 1.5 + chance.uniform()
    const flatIn = 2 + 12 * chance.uniform()
    const falling = days(
      ...Array.from({ length: 14 }, (_, i) =>
        Math.round(FLAT_PERCENT + fall * (flatIn + 13 - i) + chance.normal()),
      ),
    )
    const outlook = batteryOutlook(falling, TODAY)
    if (outlook.kind !== 'falls') continue
    told += 1
    const latest = outlook.latestDay ?? Number.POSITIVE_INFINITY
    if (outlook.soonestDay - 1 <= TODAY + flatIn && TODAY + flatIn <= latest + 1) right += 1
  }
  console.info(
    `said to fall: ${alarms} of ${RUNS} that did not, ${told} of ${RUNS} that did; flat within the days told: ${right}`,
  )
  expect(alarms / RUNS).toBeLessThan(0.05)
  expect(told / RUNS).toBeGreaterThan(0.95)
  expect(right / told).toBeGreaterThan(0.93)
})
