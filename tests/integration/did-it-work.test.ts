/** Did a program work, told from visits, watching and outcomes as they are kept. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { didItWorkAt } from '../../services/http/did-it-work-answer.ts'
import { didItWorkQuery } from '../../services/http/did-it-work-doors.ts'
import { didItWorkAnswer } from '../../services/http/did-it-work-shapes.ts'
import { parse } from '../../services/http/parse.ts'
import { removalEstimate } from '../../services/planning/removal.ts'
import { parseInstant } from '../../services/station-time.ts'
import { targetListOf } from '../../services/store/kept-lists.ts'
import { addPointState } from '../../services/store/point-states.ts'
import { makeProgram } from '../../services/store/programs.ts'
import { sayDailyRange } from '../../services/store/yard-words.ts'
import { compareRates } from '../../services/tally/change.ts'
import { nightSpell } from '../../services/tally/nights.ts'
import type { NightDate } from '../../services/words.ts'
import { recountFromNothing } from './recount.ts'
import { receiveAll, zone } from './small-station.ts'
import {
  AFTER,
  BEFORE,
  every,
  LATER,
  openWorkedStation,
  PROGRAM,
  type WorkedStation,
} from './worked-station.ts'

let station: WorkedStation
beforeAll(async () => {
  station = await openWorkedStation()
  const { targetId, nearId, farId } = station
  // Nearly every night before, every seventh after; the other way round next door; alike far away.
  await station.see(targetId, nightsBut(7, BEFORE))
  await station.see(targetId, every(7, AFTER))
  await station.see(nearId, every(7, BEFORE))
  await station.see(nearId, nightsBut(7, AFTER))
  await station.see(farId, [...every(2, BEFORE), ...every(2, AFTER)])
  // In the program's own days more come than ever: they are in neither spell.
  await station.see(targetId, every(1, PROGRAM), { camel: 9 })
})
afterAll(() => station.close())

const nightsBut = (n: number, span: { from: NightDate; to: NightDate }) => {
  const left = new Set(every(n, span))
  return every(1, span).filter((night) => !left.has(night))
}
const answer = async (query: object = {}, change: { now?: typeof LATER; programId?: number } = {}) =>
  didItWorkAnswer.parse(
    await didItWorkAt(station.ledger, {
      programId: change.programId ?? station.programId,
      asked: parse(didItWorkQuery, query),
      now: change.now ?? LATER,
    }),
  )
const pointIn = (told: Awaited<ReturnType<typeof answer>>, id: number) =>
  told.points.find(({ pointId }) => pointId === id)

describe('a program after which fewer came to its point and more next door', () => {
  it('is told so, with the point next door', async () => {
    const told = await answer()
    expect(told.says).toBe('fewer here, more next door')
    expect([told.own, told.before, told.after]).toEqual([PROGRAM, BEFORE, AFTER])
    expect(told.points.map(({ pointId, part, change }) => [pointId, part, change.verdict])).toEqual([
      [station.targetId, 'program', 'fewer'],
      // Nobody watched there.
      [station.pointId, 'neighbour', 'too few nights to tell'],
      [station.nearId, 'neighbour', 'more'],
    ])
    expect(pointIn(told, station.nearId)!.km).toBeCloseTo(15, 0)
  })

  it('counts visits of watched nights, and none of the program’s own days', async () => {
    const told = await answer()
    expect(pointIn(told, station.targetId)).toMatchObject({
      before: { visits: 24, watchedNights: 28, largest: 3 },
      after: { visits: 4, watchedNights: 28, largest: 3 },
    })
    // One point of a program together is that point: the exact test of 4 in 28 nights against 24 in 28.
    const spell = (visits: number) => ({ visits, watchedNights: 28 })
    const { p, ratio } = compareRates(spell(4), spell(24), { dispersion: told.dispersion! })
    expect(told.change.program!.p).toBeCloseTo(p, 4)
    expect(told.change.program!.ratio).toBeCloseTo(ratio!, 3)
  })

  it('is told from what a count from nothing finds', async () => {
    const told = await answer()
    const { visits, effort } = await recountFromNothing(station.ledger)
    const camels = (visits as { point_id: number; species: string; night: NightDate; peak: number }[]).filter(
      ({ species }) => species === 'camel',
    )
    for (const { pointId, ...spells } of told.points)
      for (const [name, { from, to }] of Object.entries({ before: told.before, after: told.after! })) {
        const inSpell = ({ night }: { night: NightDate }) => night >= from && night <= to
        const here = camels.filter((visit) => visit.point_id === pointId && inSpell(visit))
        const seconds = effort
          .filter((row) => row.pointId === pointId && inSpell(row))
          .map(({ night, watchedSeconds }) => {
            const spell = nightSpell(night, zone)
            return (watchedSeconds * 1000) / (spell.to - spell.from)
          })
        const spell = spells[name as 'before' | 'after']
        expect(spell.visits).toBe(seconds.length === 0 ? 0 : here.length)
        expect(spell.largest).toBe(Math.max(0, ...here.map(({ peak }) => peak)))
        expect(spell.watchedNights).toBeCloseTo(
          seconds.reduce((sum, part) => sum + part, 0),
          2,
        )
      }
  })

  it('says nothing of the kind of a program that was made up where nothing changed', async () => {
    expect((await answer({ points: String(station.farId) })).says).toBe('no clear change')
    const { list } = await targetListOf(station.ledger, station.programId)
    const { id } = await makeProgram(
      station.ledger,
      {
        name: 'No program',
        species: 'camel',
        method: 'none',
        fromNight: '2026-10-05' as NightDate,
        toNight: '2026-10-06' as NightDate,
        note: null,
      },
      { said: { at: LATER, who: 'Ada' }, list },
    )
    const told = await answer({ before: 13, after: 13 }, { programId: id })
    expect(told.says).toBe('no clear change')
    expect(told.expected).toMatchObject({ late: true })
  })

  it('goes by the owner’s daily range', async () => {
    const say = (range: { km: number; source: string } | null) =>
      sayDailyRange(station.ledger, { species: 'camel', range }, { who: 'Ada', now: LATER })
    await say({ km: 10, source: 'collars' })
    const told = await answer()
    expect(told.says).toBe('fewer here')
    expect(told.range).toMatchObject({ km: 10, own: true })
    expect(pointIn(told, station.nearId)).toBeUndefined()
    await say(null)
    expect((await answer()).says).toBe('fewer here, more next door')
  })

  it('has the spells that a person asks for', async () => {
    const told = await answer({ before: 14, after: 7 })
    expect(told.before).toEqual({ from: '2026-10-06', to: '2026-10-19' })
    expect(told.after).toEqual({ from: '2026-10-25', to: '2026-10-31' })
    expect(pointIn(told, station.targetId)!.before.watchedNights).toBe(14)
  })

  it('can’t be told before the nights after it are there', async () => {
    const told = await answer({}, { now: parseInstant('2026-10-24T09:00:00+10:30') })
    expect(told).toMatchObject({ after: null, says: 'too few nights to tell' })
  })

  it('says which words make the spells unlike', async () => {
    const said = { source: 'tap', levelPercent: null, note: null } as const
    await addPointState(station.ledger, {
      ...said,
      pointId: station.nearId,
      kind: 'water off',
      at: parseInstant('2026-11-02T08:00:00+10:30'),
    })
    expect(pointIn(await answer(), station.nearId)!.states).toEqual([
      { kind: 'water off', at: '2026-11-02T08:00:00+10:30' },
    ])
  })
})

describe('what was expected and what was taken', () => {
  it('are the list as it was kept before, and the outcomes that stand', async () => {
    await station.take([
      { day: '2026-10-20', head: 12 },
      { day: '2026-10-21', head: 6 },
      { day: '2026-10-21', head: 1, fate: 'died' },
      { day: '2026-10-22', head: 3 },
      { day: '2026-10-22', head: 2, species: 'donkey', pointId: station.farId },
    ])
    const told = await answer()
    expect(told.expected).toMatchObject({
      version: 0,
      late: false,
      points: [{ pointId: station.targetId, name: 'Target Bore', head: { low: 2, rate: 3, high: 6 } }],
    })
    // Where another species was taken is no point of this program's.
    expect(told.points.filter(({ part }) => part === 'program').map(({ name }) => name)).toEqual([
      'Target Bore',
    ])
    expect(told.met).toMatchObject({
      head: 22,
      released: 0,
      byFate: [
        { fate: 'trucked', head: 21 },
        { fate: 'died', head: 1 },
      ],
      points: [{ name: 'Target Bore', head: 22 }],
      days: [{ head: 12 }, { head: 7 }, { head: 3 }],
      others: [{ species: 'donkey', head: 2 }],
    })
  })

  it('tell how many there were, by rounds of equal effort', async () => {
    const { removal } = await answer()
    const round = (head: number) => ({ head, effort: 1, cameBack: 0 })
    const own = removalEstimate([round(12), round(7), round(3)])
    if (removal.kind !== 'rounds' || own.kind !== 'estimate') throw new Error('no estimate')
    expect(removal.unit).toBe('trap nights')
    expect(removal.equal).toMatchObject({ kind: 'estimate', head: own.head, low: own.low, high: own.high })
    // Three rounds are too few for the line of catch per effort.
    expect(removal.unequal).toEqual({ kind: 'refused', why: 'too few rounds' })
  })

  it('hold a day on which nothing was taken for a round', async () => {
    await station.take([{ day: '2026-10-23', head: 0 }])
    const { removal, met } = await answer()
    if (removal.kind !== 'rounds') throw new Error('no rounds')
    expect(removal.rounds.map(({ head }) => head)).toEqual([12, 7, 3, 0])
    // Four rounds: the line of catch per effort can be told as well, and no less than were taken.
    if (removal.unequal.kind !== 'estimate') throw new Error(removal.unequal.why)
    expect(removal.unequal.caught).toBe(22)
    expect(removal.unequal.low).toBeGreaterThanOrEqual(22)
    expect(met.head).toBe(22)
  })

  it('refuse an estimate once some were let go again', async () => {
    await station.take([{ day: '2026-10-22', head: 2, fate: 'released' }])
    const told = await answer()
    expect(told.met).toMatchObject({ head: 22, released: 2 })
    expect(told.removal).toMatchObject({ equal: { kind: 'refused', why: 'animals came back' } })
  })

  it('move the program’s own days where something was taken outside its window', async () => {
    await station.take([{ day: '2026-10-27', head: 1 }])
    expect((await answer()).own).toEqual({ from: '2026-10-20', to: '2026-10-27' })
  })
})

describe('what is not known yet', () => {
  it('a program whose photos are still being read is not told', async () => {
    const at = parseInstant('2026-11-05T22:00:00+10:30')
    const camera = await station.ledger
      .selectFrom('cameras')
      .select('id')
      .where('point_id', '=', station.nearId)
      .executeTakeFirstOrThrow()
    await receiveAll({ ...station, pointId: station.nearId }, [{ name: 'waits', cameraId: camera.id, at }])
    const told = await answer()
    expect(told.says).toBe('photos still being read')
    expect(pointIn(told, station.nearId)!.waiting).toBe(1)
  })

  it('last year’s fall in the same weeks takes the credit away', async () => {
    await station.ledger
      .updateTable('stills')
      .set({ state: 'done' })
      .where('state', '=', 'received')
      .execute()
    expect((await answer()).season).toBeNull()
    const yearAgo = (nights: readonly string[]) => nights.map((night) => night.replace('2026', '2025'))
    await station.see(station.targetId, yearAgo(nightsBut(7, BEFORE)))
    await station.see(station.targetId, yearAgo(every(7, AFTER)))
    const told = await answer()
    expect(told.says).toBe('fewer here, as last year')
    expect(told.lastYear!.before.from.slice(0, 4)).toBe('2025')
    expect(pointIn(told, station.targetId)!.lastYear).not.toBeNull()
  })
})
