/** A program's target list: what it rests on, what people change on it, and that nothing they said is undone. */
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { targetListOf } from '../../services/http/target-list-answer.ts'
import {
  editTargetList,
  planProgram,
  sayProgramWord,
  targetListNow,
} from '../../services/http/target-list-now.ts'
import { targetVersionsOf } from '../../services/http/target-versions-answer.ts'
import type { TargetEdit } from '../../services/planning/target-list.ts'
import { parseInstant } from '../../services/station-time.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { addPointState } from '../../services/store/point-states.ts'
import type { Instant, NightDate } from '../../services/words.ts'
import { everyNights, openProgramLedger, type ProgramLedger } from './program-station.ts'

const now = parseInstant('2026-11-25T06:10:00+10:30')
const DAY_MS = 86_400_000
const said = (who = 'Ash', at: Instant = now) => ({ who, at })
const fields = {
  name: 'Camels',
  species: 'camel',
  method: 'trap yard',
  fromNight: '2026-12-07' as NightDate,
  toNight: '2026-12-11' as NightDate,
  note: null,
} as const

let made: ProgramLedger
let programId: number
beforeAll(async () => {
  made = await openProgramLedger([
    { name: 'Often', lat: -28.2, lon: 134, hasYard: true, came: everyNights(1, { camel: 5, cattle: 2 }) },
    { name: 'Seldom', lat: -28.3, lon: 134, came: everyNights(7, { camel: 2 }) },
    { name: 'Never', lat: -28.4, lon: 134, came: everyNights(2, { donkey: 3 }) },
    { name: 'Blind', lat: -28.5, lon: 134, came: [] },
  ])
})
beforeEach(async () => {
  programId = (await planProgram(made.ledger, fields, said())).id
})
afterAll(() => made?.close())

const namesNow = async (at: Instant = now) =>
  (await targetListOf(made.ledger, programId, at)).lines.map(({ name }) => name)
const lineOf = async (name: string, at: Instant = now) =>
  (await targetListOf(made.ledger, programId, at)).lines.find((line) => line.name === name)!
async function edit(
  change: TargetEdit,
  { version, who = 'Ash', at = now }: { version?: number; who?: string; at?: Instant } = {},
) {
  const stands = (await targetListNow(made.ledger, programId, at)).version
  return await editTargetList(made.ledger, programId, {
    edit: change,
    version: version ?? stands,
    said: said(who, at),
  })
}

describe('what a list rests on', () => {
  it('points at which the species was seen, most head first; the others can be added', async () => {
    const list = await targetListOf(made.ledger, programId, now)
    expect(list.lines.map(({ name }) => name)).toEqual(['Often', 'Seldom'])
    expect(
      list.otherPoints.map(({ name, nightsSeen, nightsWatched }) => [name, nightsSeen, nightsWatched]),
    ).toEqual([
      ['First Bore', 0, 0],
      ['Never', 0, 28],
      ['Blind', 0, 0],
    ])
    expect(list.nights).toEqual({ from: '2026-10-27', to: '2026-11-23' })
  })

  it('nights, hours, the largest group and when they were last seen are those of the photos', async () => {
    // Each night one photo at 21:00 with five camels and two cattle.
    expect(await lineOf('Often')).toMatchObject({
      nightsSeen: 28,
      nightsWatched: 28,
      largestGroup: 5,
      lastSeenAt: '2026-11-23T21:00:00+10:30',
      lastNights: ['2026-11-23', '2026-11-22', '2026-11-21', '2026-11-20'],
      others: [{ species: 'cattle', nights: 28, largest: 2 }],
    })
    const { bestHours } = await lineOf('Often')
    expect(bestHours!.from).toBeLessThanOrEqual(21)
    expect(bestHours!.to).toBeGreaterThanOrEqual(21)
  })

  it('a point without a camera is "not watched", never none', async () => {
    await edit({ kind: 'add', pointId: made.idOf('Blind') })
    expect(await lineOf('Blind')).toMatchObject({ head: null, nightsWatched: 0, ranked: null, byHand: true })
  })

  it('what held animals want is for the high end, by the rating; under aerial work nothing is held', async () => {
    const { bring, head } = await lineOf('Often')
    // The usual rating of a camel: at most 40 litres (services/tally/default-ratings.ts).
    expect(bring).toEqual({
      head: Math.ceil(Math.max(5, head!.high)),
      litresADay: Math.ceil(Math.max(5, head!.high)) * 40,
    })
    await sayProgramWord(made.ledger, programId, {
      word: 'changed',
      fields: { method: 'Aerial' },
      said: said(),
    })
    expect((await lineOf('Often')).bring).toBeNull()
  })

  it('rain is told for two weeks', async () => {
    const rain = {
      pointId: made.idOf('Often'),
      kind: 'rain',
      source: 'tap',
      levelPercent: null,
      note: null,
    } as const
    await addPointState(made.ledger, { ...rain, at: now })
    expect((await lineOf('Often')).rainAt).toBe('2026-11-25T06:10:00+10:30')
    expect((await lineOf('Often', (now + 15 * DAY_MS) as Instant)).rainAt).toBeNull()
  })

  it('once the program has begun, nights of the program are no part of it', async () => {
    const begun = parseInstant('2026-12-10T06:00:00+10:30')
    expect((await targetListOf(made.ledger, programId, begun)).nights).toEqual({
      from: '2026-11-09',
      to: '2026-12-06',
    })
    const early = parseInstant('2026-12-01T06:00:00+10:30')
    expect((await targetListOf(made.ledger, programId, early)).nights).toEqual({
      from: '2026-11-02',
      to: '2026-11-29',
    })
  })
})

describe('changes by hand', () => {
  it('added, dropped, put in order and noted, each a version with its list', async () => {
    await edit({ kind: 'add', pointId: made.idOf('Never') })
    await edit({ kind: 'order', pointIds: [made.idOf('Never'), made.idOf('Seldom')] })
    await edit({ kind: 'note', pointId: made.idOf('Never'), text: 'look here first' }, { who: 'Bo' })
    await edit({ kind: 'drop', pointId: made.idOf('Often') })
    expect(await namesNow()).toEqual(['Never', 'Seldom'])
    const { versions } = await targetVersionsOf(made.ledger, programId)
    expect(versions.map(({ version, who, lines }) => [version, who, lines.map(({ name }) => name)])).toEqual([
      [4, 'Ash', ['Never', 'Seldom']],
      [3, 'Bo', ['Never', 'Seldom', 'Often']],
      [2, 'Ash', ['Never', 'Seldom', 'Often']],
      [1, 'Ash', ['Often', 'Seldom', 'Never']],
      [0, 'Ash', ['Often', 'Seldom']],
    ])
    expect(versions[1]!.lines[0]).toMatchObject({ note: 'look here first', byHand: true })
  })

  it('of two who change one version the later is told, and nothing of theirs is written', async () => {
    await edit({ kind: 'drop', pointId: made.idOf('Seldom') }, { version: 0 })
    await expect(
      edit({ kind: 'drop', pointId: made.idOf('Often') }, { version: 0, who: 'Bo' }),
    ).rejects.toMatchObject({
      kind: 'conflict',
      field: 'version',
      message: 'The target list is at change 1, and this was made on change 0.',
    })
    expect(await namesNow()).toEqual(['Often'])
  })

  it('a point that is not there, or not on the list, is refused in words', async () => {
    await expect(edit({ kind: 'add', pointId: 999 })).rejects.toMatchObject({ kind: 'not found' })
    await expect(edit({ kind: 'drop', pointId: made.idOf('Never') })).rejects.toMatchObject({
      field: 'pointId',
    })
  })

  it('new photos change the numbers and add points, and undo nothing that was said', async () => {
    await edit({ kind: 'drop', pointId: made.idOf('Often') })
    await edit({ kind: 'note', pointId: made.idOf('Seldom'), text: 'locked' })
    await made.come('Never', [{ nightsBack: -1, hoursAfterNoon: 8, tally: { camel: 4 } }])
    await made.come('Often', [{ nightsBack: -1, hoursAfterNoon: 8, tally: { camel: 9 } }])
    const later = (now + DAY_MS) as Instant
    expect(new Set(await namesNow(later))).toEqual(new Set(['Never', 'Seldom']))
    expect((await lineOf('Seldom', later)).note).toBe('locked')
  })

  it('a point that stood on the list stays on it when the cameras have lost it', async () => {
    const later = parseInstant('2026-12-06T06:00:00+10:30')
    await sayProgramWord(made.ledger, programId, {
      word: 'changed',
      fields: { fromNight: '2027-03-01' as NightDate, toNight: '2027-03-05' as NightDate },
      said: said('Ash', later),
    })
    const muchLater = parseInstant('2027-02-20T06:00:00+10:30')
    const list = await targetListOf(made.ledger, programId, muchLater)
    expect(list.lines.slice(0, 2).map(({ name, head, largestGroup }) => [name, head, largestGroup])).toEqual([
      ['Often', null, 0],
      ['Seldom', null, 0],
    ])
  })
})

describe('a program that is over', () => {
  it('keeps its list as it stood, whatever the cameras see later, and takes no change', async () => {
    await sayProgramWord(made.ledger, programId, { word: 'finished', said: said() })
    const before = await targetListOf(made.ledger, programId, now)
    await made.come('Never', [{ nightsBack: -1, hoursAfterNoon: 10, tally: { camel: 40 } }])
    await made.come('Often', [{ nightsBack: -2, hoursAfterNoon: 10, tally: { camel: 7 } }])
    const after = await targetListOf(made.ledger, programId, (now + 2 * DAY_MS) as Instant)
    expect(after.lines.map(({ name, head }) => [name, head])).toEqual(
      before.lines.map(({ name, head }) => [name, head]),
    )
    expect(after.lines.map(({ photo }) => photo)).toEqual(before.lines.map(({ photo }) => photo))
    expect(after.keptAt).toBe('2026-11-25T06:10:00+10:30')
    await expect(edit({ kind: 'drop', pointId: made.idOf('Often') })).rejects.toMatchObject({
      kind: 'conflict',
    })
    await expect(
      sayProgramWord(made.ledger, programId, { word: 'dropped', said: said() }),
    ).rejects.toMatchObject({
      kind: 'conflict',
    })
  })

  it('taken up again it follows the cameras again', async () => {
    expect(await namesNow()).not.toContain('Never')
    await sayProgramWord(made.ledger, programId, { word: 'dropped', said: said() })
    await sayProgramWord(made.ledger, programId, { word: 'taken up again', said: said() })
    await made.come('Never', [{ nightsBack: -1, hoursAfterNoon: 12, tally: { camel: 4 } }])
    expect(await namesNow((now + 2 * DAY_MS) as Instant)).toContain('Never')
    await expect(
      sayProgramWord(made.ledger, programId, { word: 'taken up again', said: said() }),
    ).rejects.toMatchObject({ kind: 'conflict', field: 'word' })
  })
})

describe('what may leave the station', () => {
  it('a photo in which somebody marked a person is not on it: the one before is', async () => {
    const { photo } = await lineOf('Often')
    await recordChecks(made.ledger, {
      words: [{ stillId: photo!.stillId, verdict: 'marked', marks: ['person'] }],
      who: 'Ash',
      at: now,
    })
    const after = await lineOf('Often')
    expect(after.photo!.stillId).not.toBe(photo!.stillId)
    expect(Date.parse(after.photo!.takenAt)).toBeLessThan(Date.parse(photo!.takenAt))
  })
})
