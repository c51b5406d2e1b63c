/** A worker's rate is measured over the last minutes, not since it was started. */
import { expect, it } from 'vitest'
import { photosAnHour } from '../../../../worker/remote/rate.ts'

const MINUTE_MS = 60_000

it('is nothing at the start', () => {
  expect(photosAnHour().at(5, 0)).toBe(0)
})

it('since the start, while that is less than five minutes ago', () => {
  const rate = photosAnHour()
  rate.at(0, 0)
  expect(rate.at(MINUTE_MS, 10)).toBe(600)
  expect(rate.at(2 * MINUTE_MS, 10)).toBe(300)
})

it('forgets what was before the last five minutes', () => {
  const rate = photosAnHour()
  rate.at(0, 0)
  for (let minute = 1; minute <= 10; minute += 1) rate.at(minute * MINUTE_MS, minute * 100)
  // Nothing more after the tenth minute.
  for (let minute = 11; minute < 15; minute += 1) rate.at(minute * MINUTE_MS, 1_000)
  expect(rate.at(15 * MINUTE_MS, 1_000)).toBe(0)
})
