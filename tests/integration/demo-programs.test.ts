/** The demo's programs: said through the ordinary functions, on days that fit its traps, and once. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { planProgramsInDemo } from '../../services/demo/programs.ts'
import { firstPlan } from '../../services/demo/saved-plan.ts'
import { setUpDemo } from '../../services/demo/set-up.ts'
import { demoStates } from '../../services/demo/states.ts'
import { demoZone } from '../../services/demo/station.ts'
import { targetListOf } from '../../services/http/target-list-answer.ts'
import { parseInstant } from '../../services/station-time.ts'
import { targetListVersions } from '../../services/store/kept-lists.ts'
import { type Ledger, openLedger } from '../../services/store/open.ts'
import { listPrograms, programWords } from '../../services/store/programs.ts'
import { nextNight, nightOf } from '../../services/tally/nights.ts'
import { freshDatabase } from './fresh-database.ts'

const now = parseInstant('2026-11-25T06:10:00+10:30')
const thresholds = { count: 0.5, flag: 0.3 }

let ledger: Ledger
let drop: () => Promise<void>
beforeEach(async () => {
  const database = await freshDatabase()
  ledger = await openLedger(database.url)
  drop = database.drop
})
afterEach(async () => {
  await ledger.destroy()
  await drop()
})

async function demoWithPast(nights: number) {
  const plan = firstPlan({ seed: 1, nights, now })
  await setUpDemo(ledger, plan.chapters[0]!, thresholds)
  const say = () => planProgramsInDemo({ ledger, now: () => now }, { plan })
  await say()
  return { plan, say }
}

describe('the demo', () => {
  it('has a camel program that is over, on the nights on which its trap was set', async () => {
    const { plan } = await demoWithPast(56)
    const program = (await listPrograms(ledger)).find(({ finished_at }) => finished_at !== null)!
    const list = await targetListOf(ledger, program.id, now)
    expect([program.species, list.lines.map(({ name }) => name)]).toEqual(['camel', ['Stony Turkey Nest']])
    const states = demoStates(plan.chapters[0]!).filter(({ pointKey }) => pointKey === 'stony-turkey-nest')
    const at = (kind: string) => states.find((state) => state.kind === kind)!.at
    // Set in the morning, so that evening's night is the first; shut down in the morning after the last.
    const evening = (morning: number) => nextNight(nightOf(morning as typeof now, demoZone))
    expect(program.from_night).toBe(evening(at('trap set')))
    expect(nextNight(program.to_night)).toBe(evening(at('trap shut down')))
    expect(program.made_at.getTime()).toBeLessThan(at('trap set'))
    expect(program.finished_at!.getTime()).toBeGreaterThan(at('trap shut down'))
    expect((await programWords(ledger, program.id)).map(({ word }) => word)).toEqual(['made', 'finished'])
  })

  it('has one that is planned, with two points and a note', async () => {
    await demoWithPast(56)
    const program = (await listPrograms(ledger)).find(({ finished_at }) => finished_at === null)!
    const { lines, program: told } = await targetListOf(ledger, program.id, now)
    expect([told.state, told.species]).toEqual(['planned', 'donkey'])
    expect(lines.map(({ name }) => name)).toEqual(['Galah Well', 'Snakewood Bore'])
    expect(lines[0]!.note).not.toBeNull()
    expect(lines[0]!.access?.gates).not.toBeNull()
  })

  it('says them once, however often it is started', async () => {
    const { say } = await demoWithPast(56)
    const before = await Promise.all(
      (await listPrograms(ledger)).map(({ id }) => targetListVersions(ledger, id)),
    )
    await say()
    const after = await Promise.all(
      (await listPrograms(ledger)).map(({ id }) => targetListVersions(ledger, id)),
    )
    expect(after).toEqual(before)
  })

  it('with a past too short for a program that is over has the planned one', async () => {
    await demoWithPast(9)
    expect((await listPrograms(ledger)).map(({ finished_at }) => finished_at)).toEqual([null])
  })
})
