/** A demo started again goes on with its past, and makes the days between. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, it } from 'vitest'
import {
  caughtUp,
  firstPlan,
  isDemoFolder,
  readPlan,
  withStep,
  writePlan,
} from '../../../services/demo/saved-plan.ts'
import { parseInstant } from '../../../services/station-time.ts'
import type { Instant } from '../../../services/words.ts'

const morning = parseInstant('2026-11-25T06:10:00+10:30')
const hoursLater = (hours: number) => (morning + hours * 3_600_000) as Instant
const begun = firstPlan({ seed: 1, nights: 56, now: morning })

let folder: string
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'hooftally-plan-'))
})
afterEach(async () => {
  await rm(folder, { recursive: true })
})

it('started again within the hour it goes on with the same past', () => {
  expect(caughtUp(begun, hoursLater(0.5))).toEqual(begun)
})

it('started again three days later it makes the days since, and nothing of before', () => {
  const later = caughtUp(begun, hoursLater(72))
  expect(later.chapters).toHaveLength(2)
  expect(later.chapters[0]).toEqual(begun.chapters[0])
  expect(later.chapters[1]).toEqual({ now: hoursLater(72), nights: 4, since: morning, step: 0 })
})

it('after a year at rest it makes eight weeks at most', () => {
  expect(caughtUp(begun, hoursLater(365 * 24)).chapters[1]?.nights).toBe(56)
})

it('a clock set back makes nothing new', () => {
  expect(caughtUp(begun, hoursLater(-48))).toEqual(begun)
})

it('remembers how far each chapter came', async () => {
  const plan = withStep(caughtUp(begun, hoursLater(72)), 1, 17)
  await writePlan(folder, plan)
  expect(await readPlan(folder)).toEqual(plan)
  expect((await readPlan(folder))?.chapters.map(({ step }) => step)).toEqual([0, 17])
})

it('a damaged plan is refused with its remedy, and its folder still is a demo’s', async () => {
  await writeFile(join(folder, 'demo.json'), '{"seed": 1, "chap')
  await expect(readPlan(folder)).rejects.toMatchObject({
    remedy: expect.stringContaining('--fresh') as string,
  })
  expect(await isDemoFolder(folder)).toBe(true)
})

it('a folder without a plan is no demo’s: it is never deleted', async () => {
  expect(await isDemoFolder(folder)).toBe(false)
  expect(await readPlan(folder)).toBeNull()
})
