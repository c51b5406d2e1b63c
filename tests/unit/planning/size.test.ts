/** How large a set-up has to be. The expected values are worked out by hand beside each. */
import { expect, it } from 'vitest'
import { sizeOf } from '../../../services/planning/size.ts'

const load = { cameras: 20, photosACameraDay: 40, photoBytes: 500_000, busiestHourShare: 0.1 }

it('a station of twenty cameras needs one worker', () => {
  const size = sizeOf(load, { workerPerSecond: 4 })
  // 20 x 40 photos; a tenth of 800 in 3,600 seconds.
  expect(size.photosADay).toBe(800)
  expect(size.busiestHourPerSecond).toBeCloseTo(80 / 3600, 10)
  expect(size.workers).toBe(1)
  // 800 photos at 4 a second are 200 seconds.
  expect(size.hoursForADayAtOnce).toBeCloseTo(200 / 3600, 10)
})

it('disk is photos times their size', () => {
  const size = sizeOf(load, { workerPerSecond: 4 })
  // 800 x 0.5 MB.
  expect(size.photoBytesADay).toBe(400_000_000)
  expect(size.photoBytesAYear).toBeCloseTo(400_000_000 * 365.25, 0)
})

it('workers are enough for the busiest hour with room to spare, and one more as soon as they are not', () => {
  // 2,520 photos in the hour are 0.7 a second: all that one worker of 1 a second should have.
  const full = { ...load, cameras: 1, photosACameraDay: 25_200 }
  expect(sizeOf(full, { workerPerSecond: 1.0001 }).workers).toBe(1)
  expect(sizeOf({ ...full, photosACameraDay: 25_300 }, { workerPerSecond: 1 }).workers).toBe(2)
})

it('twice as fast a worker halves what is needed of them', () => {
  const many = { ...load, cameras: 10_000 }
  const slow = sizeOf(many, { workerPerSecond: 2 }).workers
  // 40,000 photos an hour are 11.11 a second; over 2 x 0.7 that is 7.94, over 4 x 0.7 it is 3.97.
  expect(slow).toBe(8)
  expect(sizeOf(many, { workerPerSecond: 4 }).workers).toBe(4)
})
