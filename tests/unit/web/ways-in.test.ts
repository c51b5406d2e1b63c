/** What Set-up and the Water run say of how a camera's photos come in. */
import { describe, expect, test } from 'vitest'
import type { Battery } from '../../../services/http/battery-shapes.ts'
import type { CameraSource } from '../../../services/http/source-shapes.ts'
import { batteryFact, headLine, notFetchedFact, troublesOf } from '../../../web/text/water-run.ts'
import { batteryLine, sourceFact, triedFact } from '../../../web/text/ways-in.ts'
import { answerOf, NOW, rowOf } from './rows.ts'

const source = (change: Partial<CameraSource> = {}): CameraSource => ({
  id: 1,
  cameraId: 1,
  kind: 'snapshot',
  isOn: true,
  settings: {},
  lastTryAt: '2026-11-25T06:05:00+10:30',
  lastOkAt: '2026-11-25T06:05:00+10:30',
  lastReason: null,
  told: null,
  failures: 0,
  nextAt: null,
  aside: [],
  asideFiles: 0,
  ...change,
})
const reason = 'Nothing answers at this address.'

describe('a way in', () => {
  test.each([
    [{}, 'well', 'Well, looked at 5 min ago'],
    [{ lastTryAt: null }, 'unknown', 'Not looked at yet'],
    [{ isOn: false, lastReason: reason }, 'plain', 'Paused'],
    [{ lastReason: reason, failures: 2 }, 'look', `${reason} It went well 5 min ago.`],
    [{ lastReason: reason, failures: 2, lastOkAt: null }, 'look', `${reason} It has not gone well yet.`],
    [{ lastReason: 'Over its limit.' }, 'unknown', 'Waits: Over its limit.'],
  ] as const)('%j', (change, tone, words) => expect(sourceFact(source(change), NOW)).toEqual({ tone, words }))
})

describe('a try', () => {
  const photo = { id: 1, takenAt: NOW, clockDoubt: null, reason: null, known: false, smallUrl: '' }
  test.each([
    [{ outcome: 'well', words: null, photos: [photo] }, 'This photo came:'],
    [{ outcome: 'well', words: null, photos: [{ ...photo, known: true }] }, 'This photo had come before:'],
    [{ outcome: 'well', words: null, photos: [] }, 'It went well; no photo came.'],
    [{ outcome: 'failed', words: reason, photos: [] }, reason],
  ] as const)('%j', (tried, words) => {
    expect(triedFact({ ...tried, photos: [...tried.photos] }).words).toBe(words)
  })
})

describe('a battery', () => {
  const battery = (change: Partial<Battery>): Battery => ({
    cameraId: 1,
    cameraName: 'Kite 1',
    pointId: 1,
    percent: 34,
    on: '2026-11-24',
    isFlat: false,
    flat: null,
    because: null,
    ...change,
  })
  const flat = {
    on: '2026-12-01',
    soonest: '2026-11-30',
    latest: '2026-12-03',
    inDays: 6,
    percentADay: 2,
    days: 9,
  }
  test('is told with its day, the soonest and latest, and what that rests on', () => {
    expect(batteryLine(battery({ flat }))?.words).toBe(
      'Battery 34 % on Tue 24 Nov, flat about Tue 1 Dec (Mon 30 Nov to Thu 3 Dec; from 9 days of readings)',
    )
    expect(batteryLine(battery({ flat: { ...flat, latest: null } }))?.words).toContain(
      'Mon 30 Nov at the soonest',
    )
  })
  test('or why that can’t be told; and nothing where it never told any', () => {
    expect(batteryLine(battery({ because: 'It does not surely fall.' }))?.words).toBe(
      'Battery 34 % on Tue 24 Nov. It does not surely fall.',
    )
    expect(batteryLine(undefined)).toBeNull()
  })
  test('flat is an alarm, soon flat worth a look, and both are among the troubles', () => {
    const soon = { cameraName: 'Kite 1', percent: 34.2, on: '2026-12-01', inDays: 6 }
    expect(batteryFact(soon)).toEqual({
      tone: 'look',
      words: 'Battery of Kite 1: 34 %, flat about Tue 1 Dec',
    })
    expect(batteryFact({ ...soon, on: null, inDays: 0, percent: 12 }).tone).toBe('alarm')
    const answer = answerOf([rowOf(1, { batteries: [soon] })])
    expect(troublesOf(answer).map(({ words }) => words)).toEqual([
      'Battery of Kite 1: 34 %, flat about Tue 1 Dec (Point 1)',
    ])
    expect(headLine(answer)).toBe('All 1 point watched. 1 needs a look.')
  })
})

test('photos that can’t be fetched are told with the exact reason', () => {
  expect(notFetchedFact({ cameraName: 'Kite 1', reason }).words).toBe(
    `Photos of Kite 1 can’t be fetched: ${reason}`,
  )
})
