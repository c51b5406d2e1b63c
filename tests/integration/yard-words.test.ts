/** What people said of trap yards is kept word by word: the latest stands, nothing is overwritten. */
import { sql } from 'kysely'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { KeptYardPlan, YardPlanFigures } from '../../services/planning/yard-plan.ts'
import { parseInstant } from '../../services/station-time.ts'
import { addPointState } from '../../services/store/point-states.ts'
import { changePoint } from '../../services/store/points.ts'
import {
  changeYardPlan,
  findYardPlan,
  keepYardPlan,
  listYardPlans,
  withdrawYardPlan,
} from '../../services/store/yard-plans.ts'
import { readFirstUses, readYardStates } from '../../services/store/yard-sightings.ts'
import {
  readDailyRanges,
  readOtherWater,
  readYardMeans,
  sayDailyRange,
  sayFirstUsed,
  sayOtherWater,
  sayYardMeans,
} from '../../services/store/yard-words.ts'
import type { NightDate, StateKind } from '../../services/words.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

let station: SmallStation
const now = parseInstant('2026-11-25T06:10:00+10:30')
const said = { who: 'Robin', now }

beforeAll(async () => {
  station = await openSmallStation()
})
afterAll(() => station.close())

describe('yards and ranges', () => {
  it('are the usual until somebody says otherwise, and what is left out stays', async () => {
    expect(await readYardMeans(station.ledger)).toMatchObject({
      portableYards: 0,
      nightsSet: 7,
      saidAt: null,
    })
    await sayYardMeans(station.ledger, { portableYards: 3 }, said)
    await sayYardMeans(station.ledger, { openWeeks: 4 }, said)
    expect(await readYardMeans(station.ledger)).toEqual({
      portableYards: 3,
      nightsSet: 7,
      training: { open: 4, checking: 1 },
      saidAt: now,
    })
  })

  it('both words of two who speak at once stand', async () => {
    await Promise.all([
      sayYardMeans(station.ledger, { portableYards: 5 }, said),
      sayYardMeans(station.ledger, { nightsSet: 10 }, said),
    ])
    expect(await readYardMeans(station.ledger)).toMatchObject({ portableYards: 5, nightsSet: 10 })
  })

  it('a range of the owner holds for its species alone, and goes when it is taken back', async () => {
    const before = await readDailyRanges(station.ledger)
    expect(before.camel).toMatchObject({ fromMemory: true, own: false })
    await sayDailyRange(station.ledger, { species: 'camel', range: { km: 31, source: 'collars' } }, said)
    const after = await readDailyRanges(station.ledger)
    expect(after.camel).toEqual({ km: 31, source: 'collars', fromMemory: false, own: true })
    expect(after.donkey).toEqual(before.donkey)
    await sayDailyRange(station.ledger, { species: 'camel', range: null }, said)
    expect(await readDailyRanges(station.ledger)).toEqual(before)
  })
})

describe('other water', () => {
  const word = { openPointIds: [], elsewhere: 'creek holes to the east' }
  it('the latest word of a point stands', async () => {
    const { pointId } = station
    await sayOtherWater(station.ledger, { pointIds: [pointId], isSure: true, ...word }, said)
    expect((await readOtherWater(station.ledger)).get(pointId)).toMatchObject({ isSure: true, who: 'Robin' })
    await sayOtherWater(
      station.ledger,
      { pointIds: [pointId], isSure: false, openPointIds: [], elsewhere: null },
      said,
    )
    expect((await readOtherWater(station.ledger)).get(pointId)).toMatchObject({ isSure: false })
  })

  it('is not said of a point that is none', async () => {
    const wrong = sayOtherWater(
      station.ledger,
      { pointIds: [station.pointId, 99], isSure: true, ...word },
      said,
    )
    await expect(wrong).rejects.toMatchObject({ kind: 'not found', field: 'id' })
    expect((await readOtherWater(station.ledger)).get(station.pointId)).toMatchObject({ isSure: false })
  })
})

describe('the first use of a yard', () => {
  const camelsAt = async (at: string) => {
    const still = { name: at, cameraId: station.cameraIds[1], at: parseInstant(at) }
    await record(station, await receive(station, still), { camel: 2 })
  }
  const trap = (kind: StateKind, at: string) =>
    addPointState(station.ledger, {
      pointId: station.pointId,
      kind,
      at: parseInstant(at),
      source: 'tap',
      levelPercent: null,
      note: null,
    })
  const firstUses = () => readFirstUses(station.ledger, 'camel')

  it('is none where no yard stands and no trap was open, whoever comes to drink', async () => {
    await camelsAt('2026-10-01T22:00:00+09:30')
    expect(await firstUses()).toEqual([])
  })

  it('is the first visit after the trap was open', async () => {
    await trap('trap open', '2026-10-05T10:00:00+10:30')
    expect(await firstUses()).toEqual([])
    // Before noon: the night of the 6th.
    await camelsAt('2026-10-07T02:00:00+10:30')
    await camelsAt('2026-10-09T02:00:00+10:30')
    expect(await firstUses()).toEqual([{ pointId: station.pointId, on: '2026-10-06', by: 'trap open' }])
    expect(await readFirstUses(station.ledger, 'donkey')).toEqual([])
  })

  it('begins anew with panels that were taken away and brought back', async () => {
    await trap('trap shut down', '2026-10-20T10:00:00+10:30')
    expect((await readYardStates(station.ledger)).traps.get(station.pointId)).toBe('trap shut down')
    expect(await firstUses()).toEqual([])
    await trap('trap open', '2026-11-01T10:00:00+10:30')
    await camelsAt('2026-11-03T22:00:00+10:30')
    expect(await firstUses()).toMatchObject([{ on: '2026-11-03' }])
  })

  it('of a yard that stands for good is not lost by shutting it down', async () => {
    await changePoint(station.ledger, station.pointId, { hasYard: true })
    expect(await firstUses()).toMatchObject([{ on: '2026-10-06', by: 'trap open' }])
  })

  it("is the owner's date where there is one", async () => {
    const on = '2026-09-09' as NightDate
    await sayFirstUsed(station.ledger, { pointId: station.pointId, species: 'camel', on }, said)
    expect(await firstUses()).toEqual([{ pointId: station.pointId, on, by: 'said' }])
    await sayFirstUsed(station.ledger, { pointId: station.pointId, species: 'camel', on: null }, said)
    expect(await firstUses()).toMatchObject([{ by: 'trap open' }])
  })
})

describe('a plan that is kept', () => {
  const plan: KeptYardPlan = {
    name: 'Camels in December',
    species: 'camel',
    pointIds: [1],
    fromNight: '2026-12-01' as NightDate,
    nights: 7,
    hours: { from: 19, to: 5.5 },
    cattleShare: 0.1,
    note: null,
  }
  const some = { low: 1, rate: 2, high: 3 }
  const shown: YardPlanFigures = {
    met: some,
    metIfKeeping: 2,
    notMet: some,
    of: some,
    closedWhole: true,
    shiftsTo: [],
    lookedAt: { from: '2026-09-30' as NightDate, to: '2026-11-24' as NightDate },
  }

  it('has a version for each change, and the earlier ones stand', async () => {
    const { planId } = await keepYardPlan(station.ledger, { plan, shown }, said)
    const later = { ...plan, nights: 9 }
    await changeYardPlan(station.ledger, { planId, version: 1, plan: later, shown }, { who: 'Kim', now })
    expect(await listYardPlans(station.ledger)).toMatchObject([
      { planId, version: 2, who: 'Kim', plan: later },
    ])
    expect(await findYardPlan(station.ledger, planId)).toMatchObject([
      { version: 2, plan: later },
      { version: 1, plan, shown, who: 'Robin' },
    ])
  })

  it('is not changed from a version that somebody has changed since', async () => {
    const { planId } = (await listYardPlans(station.ledger))[0]!
    const late = changeYardPlan(station.ledger, { planId, version: 1, plan, shown }, said)
    await expect(late).rejects.toMatchObject({ kind: 'conflict', field: 'version' })
    expect((await listYardPlans(station.ledger))[0]!.version).toBe(2)
  })

  it('withdrawn is on no list, and can be read and not changed', async () => {
    const { planId } = (await listYardPlans(station.ledger))[0]!
    await withdrawYardPlan(station.ledger, { planId, version: 2 }, said)
    expect(await listYardPlans(station.ledger)).toEqual([])
    expect((await findYardPlan(station.ledger, planId)).map(({ version }) => version)).toEqual([3, 2, 1])
    const after = changeYardPlan(station.ledger, { planId, version: 3, plan, shown }, said)
    await expect(after).rejects.toMatchObject({ kind: 'conflict' })
  })

  it('and every word before it can be changed or taken out by nobody', async () => {
    for (const log of ['yard_means', 'daily_range_words', 'other_water_words', 'yard_first_used_words'])
      for (const statement of [`update ${log} set who = 'x'`, `delete from ${log}`])
        await expect(sql.raw(statement).execute(station.ledger)).rejects.toThrow('append-only')
    await expect(sql`delete from yard_plan_versions`.execute(station.ledger)).rejects.toThrow('append-only')
  })
})
