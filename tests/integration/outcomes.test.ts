/** The log of what was taken, and the trap log: said once, corrected by later words, nothing overwritten. */
import { randomUUID } from 'node:crypto'
import { sql } from 'kysely'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { parseInstant } from '../../services/station-time.ts'
import { outcomeEntries } from '../../services/store/outcome-entries.ts'
import { recordOutcomes, type TakenWord } from '../../services/store/outcomes.ts'
import { addPointState, listPointStates } from '../../services/store/point-states.ts'
import { trapEntries, trapsAt } from '../../services/store/trap-entries.ts'
import { recordTrapWords, type SaidTrapWord } from '../../services/store/trap-log.ts'
import { trapStanding } from '../../services/tally/trap-visits.ts'
import type { Instant } from '../../services/words.ts'
import { openSmallStation, type SmallStation } from './small-station.ts'

const now = parseInstant('2026-11-25T06:10:00+10:30')
const hoursAgo = (hours: number) => (now - hours * 3_600_000) as Instant
let station: SmallStation

beforeAll(async () => {
  station = await openSmallStation()
})
afterAll(() => station?.close())

const taken = (said: Partial<TakenWord> = {}): TakenWord => ({
  kind: 'taken',
  id: randomUUID(),
  programId: null,
  pointId: station.pointId,
  species: 'camel',
  day: '2026-11-24',
  method: 'trap yard',
  head: 7,
  fate: 'trucked',
  class: 'cows',
  effort: { amount: 1, unit: 'trap nights' },
  carrier: null,
  paper: null,
  note: null,
  who: 'Ash',
  withdraws: null,
  ...said,
})
const entries = (day: string) => outcomeEntries(station.ledger, { from: day, to: day, limit: 10 })
const standing = async (day: string) => (await entries(day)).filter(({ back }) => back === null)
const withdrawn = (withdraws: string) =>
  ({ kind: 'withdrawn', id: randomUUID(), who: 'Ash', withdraws, note: null }) as const

describe('what was taken', () => {
  test('is written once however often it is sent', async () => {
    const word = taken({ day: '2026-11-01' })
    await recordOutcomes(station.ledger, { words: [word], now })
    await Promise.all([1, 2, 3].map(() => recordOutcomes(station.ledger, { words: [word], now })))
    expect((await standing('2026-11-01')).map(({ head }) => head)).toEqual([7])
  })

  test('is refused when other words come under a used id', async () => {
    const word = taken({ day: '2026-11-02' })
    await recordOutcomes(station.ledger, { words: [word], now })
    await expect(
      recordOutcomes(station.ledger, { words: [{ ...word, head: 8 }], now }),
    ).rejects.toMatchObject({
      kind: 'conflict',
      field: 'words.0.id',
    })
    expect((await standing('2026-11-02')).map(({ head }) => head)).toEqual([7])
  })

  test('is corrected by a later word that stands in its place, and the first stays written', async () => {
    const first = taken({ day: '2026-11-03' })
    const second = taken({ day: '2026-11-03', head: 9, withdraws: first.id })
    await recordOutcomes(station.ledger, { words: [first, second], now })
    expect((await standing('2026-11-03')).map(({ head }) => head)).toEqual([9])
    expect((await entries('2026-11-03')).find(({ id }) => id === first.id)).toMatchObject({
      head: 7,
      back: { id: second.id, corrected: true },
    })
  })

  test('is corrected once: two phones can’t both stand in its place', async () => {
    const first = taken({ day: '2026-11-04' })
    await recordOutcomes(station.ledger, { words: [first], now })
    const results = await Promise.allSettled(
      [8, 9].map((head) =>
        recordOutcomes(station.ledger, {
          words: [taken({ day: '2026-11-04', head, withdraws: first.id })],
          now,
        }),
      ),
    )
    expect(results.map(({ status }) => status).sort()).toEqual(['fulfilled', 'rejected'])
    expect(await standing('2026-11-04')).toHaveLength(1)
  })

  test('stands no more once it is taken back', async () => {
    const word = taken({ day: '2026-11-05' })
    await recordOutcomes(station.ledger, { words: [word, withdrawn(word.id)], now })
    expect(await standing('2026-11-05')).toEqual([])
  })

  test('comes all or none', async () => {
    const words = [taken({ day: '2026-11-06' }), withdrawn(randomUUID())]
    await expect(recordOutcomes(station.ledger, { words, now })).rejects.toMatchObject({ kind: 'not found' })
    expect(await standing('2026-11-06')).toEqual([])
  })

  test('is in a log that refuses anything but an insert', async () => {
    await recordOutcomes(station.ledger, { words: [taken({ day: '2026-11-07' })], now })
    await expect(sql`update outcomes set head = 1`.execute(station.ledger)).rejects.toThrow('append-only')
    await expect(sql`delete from outcomes`.execute(station.ledger)).rejects.toThrow('append-only')
  })
})

const trapWord = (
  kind: SaidTrapWord['kind'],
  at: Instant,
  said: Partial<SaidTrapWord> = {},
): SaidTrapWord => ({
  kind,
  id: randomUUID(),
  pointId: station.pointId,
  at,
  held: null,
  heldSince: null,
  species: null,
  class: null,
  who: 'Ash',
  note: null,
  withdraws: null,
  ...said,
})
const trap = async () => {
  const words = (await trapsAt(station.ledger, { now })).get(station.pointId) ?? []
  return trapStanding(words, { now, hours: 24 })
}
const states = async () =>
  (await listPointStates(station.ledger, station.pointId, 50)).map(({ kind }) => kind)

describe('a trap', () => {
  test('is told the same by its log, by its point and by a tap', async () => {
    const { ledger, pointId } = station
    await recordTrapWords(ledger, { words: [trapWord('trap set', hoursAgo(30), { held: 0 })], now })
    expect(await states()).toEqual(['trap set'])
    expect(await trap()).toMatchObject({ state: 'set', overdue: true, held: null })
    await recordTrapWords(ledger, {
      words: [trapWord('visited', hoursAgo(3), { held: 6, species: 'camel' })],
      now,
    })
    expect(await states()).toEqual(['trap set'])
    expect(await trap()).toMatchObject({ state: 'set', overdue: false, held: { head: 6 }, visitedBy: 'Ash' })
    await addPointState(ledger, {
      pointId,
      kind: 'trap open',
      at: hoursAgo(1),
      source: 'tap',
      levelPercent: null,
      note: null,
    })
    expect(await trap()).toMatchObject({ state: 'open', held: null, dueBy: null })
    const log = await trapEntries(ledger, { pointId, limit: 10 })
    expect(log.map(({ kind }) => kind)).toEqual(['trap open', 'visited', 'trap set'])
  })

  test('is as before once a wrong word is taken back, in its log and among the point’s states', async () => {
    const { ledger, pointId } = station
    const [open] = await trapEntries(ledger, { pointId, limit: 1 })
    await recordTrapWords(ledger, { words: [withdrawn(open!.id)], now })
    expect(await states()).toEqual(['trap set'])
    expect(await trap()).toMatchObject({ state: 'set', held: { head: 6 } })
    const log = await trapEntries(ledger, { pointId, limit: 10 })
    expect(log.find(({ id }) => id === open!.id)?.back).toMatchObject({ who: 'Ash', corrected: false })
  })

  test('has a word with a wrong time put right by another in its place', async () => {
    const { ledger, pointId } = station
    const set = (await trapEntries(ledger, { pointId, limit: 10 })).find(({ kind }) => kind === 'trap set')!
    await recordTrapWords(ledger, { words: [trapWord('trap set', hoursAgo(50), { withdraws: set.id })], now })
    const rows = await listPointStates(ledger, pointId, 50)
    expect(rows.map(({ kind, at }) => [kind, at.getTime()])).toEqual([['trap set', hoursAgo(50)]])
  })
})
