/** Programs in the ledger: what was said of one stays, and two who change its list at once are told. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { KeptTargetList } from '../../services/planning/kept-target-list.ts'
import type { TargetEdit } from '../../services/planning/target-list.ts'
import { parseInstant } from '../../services/station-time.ts'
import { targetListOf, targetListVersions } from '../../services/store/kept-lists.ts'
import {
  changeTargetList,
  fieldsOf,
  findProgram,
  listPrograms,
  makeProgram,
  type ProgramBefore,
  programWords,
  sayOfProgram,
} from '../../services/store/programs.ts'
import type { NightDate } from '../../services/words.ts'
import { openSmallStation, type SmallStation } from './small-station.ts'

const night = (date: string) => date as NightDate
const at = (iso: string) => parseInstant(iso)
const said = { at: at('2026-11-01T09:00:00+10:30'), who: 'Ash' }
const later = { at: at('2026-11-02T09:00:00+10:30'), who: 'Bo' }
const fields = {
  name: 'Camels north',
  species: 'camel',
  method: 'trap yard',
  fromNight: night('2026-11-10'),
  toNight: night('2026-11-14'),
  note: null,
} as const
const list: KeptTargetList = {
  nights: { from: night('2026-10-04'), to: night('2026-10-31') },
  lines: [
    {
      pointId: 1,
      ranked: 1,
      byHand: false,
      note: null,
      expected: {
        head: { low: 2.5, rate: 4, high: 7 },
        nightsSeen: 9,
        nightsWatched: 28,
        largestGroup: 6,
        lastSeenAt: at('2026-10-31T21:00:00+10:30'),
        bestHours: { from: 20, to: 1.5, hours: 5.5 },
      },
    },
  ],
}
const note: TargetEdit = { kind: 'note', pointId: 1, text: 'gate is locked' }

let station: SmallStation
beforeEach(async () => {
  station = await openSmallStation()
})
afterEach(async () => {
  await station.close()
})

describe('a program', () => {
  it('is found with the list it was made with', async () => {
    const made = await makeProgram(station.ledger, fields, { said, list })
    expect(fieldsOf(await findProgram(station.ledger, made.id))).toEqual(fields)
    expect(await targetListOf(station.ledger, made.id)).toMatchObject({
      version: 0,
      edit: null,
      list,
      who: 'Ash',
    })
  })

  it('that does not exist is refused in words', async () => {
    await expect(findProgram(station.ledger, 7)).rejects.toMatchObject({ kind: 'not found', field: 'id' })
  })

  it('keeps every word that was said of it, and what stood before', async () => {
    const { id } = await makeProgram(station.ledger, fields, { said, list })
    const changed = { ...fields, toNight: night('2026-11-20') }
    await sayOfProgram(station.ledger, id, {
      word: 'changed',
      said: later,
      next: () => ({ fields: changed, list }),
    })
    await sayOfProgram(station.ledger, id, {
      word: 'finished',
      said: later,
      next: () => ({ fields: changed, list }),
    })
    const words = await programWords(station.ledger, id)
    expect(words.map(({ word, who, said: what }) => [word, who, what.toNight])).toEqual([
      ['made', 'Ash', '2026-11-14'],
      ['changed', 'Bo', '2026-11-20'],
      ['finished', 'Bo', '2026-11-20'],
    ])
    expect((await findProgram(station.ledger, id)).finished_at?.getTime()).toBe(later.at)
  })

  it('that was dropped is still listed, and can be taken up again', async () => {
    const { id } = await makeProgram(station.ledger, fields, { said, list })
    await sayOfProgram(station.ledger, id, { word: 'dropped', said: later, next: () => ({ fields, list }) })
    expect((await listPrograms(station.ledger)).map((row) => [row.id, row.dropped_at?.getTime()])).toEqual([
      [id, later.at],
    ])
    await sayOfProgram(station.ledger, id, {
      word: 'taken up again',
      said: later,
      next: () => ({ fields, list }),
    })
    expect((await findProgram(station.ledger, id)).dropped_at).toBeNull()
  })
})

describe('two people who change a program at once', () => {
  it('each of them sees what the other did, and neither’s word is undone', async () => {
    const { id } = await makeProgram(station.ledger, fields, { said, list })
    const change = (part: { readonly name?: string; readonly note?: string }) =>
      sayOfProgram(station.ledger, id, {
        word: 'changed',
        said: later,
        next: ({ program }) => ({ fields: { ...fieldsOf(program), ...part }, list }),
      })
    await Promise.all([change({ note: 'bring panels' }), change({ name: 'Camels south' })])
    expect(fieldsOf(await findProgram(station.ledger, id))).toMatchObject({
      name: 'Camels south',
      note: 'bring panels',
    })
  })
})

describe('a kept target list', () => {
  const next = ({ versions }: ProgramBefore) => ({
    version: versions.at(-1)!.version + 1,
    edit: note,
    list,
  })

  it('keeps every version with who changed what', async () => {
    const { id } = await makeProgram(station.ledger, fields, { said, list })
    await changeTargetList(station.ledger, id, { said: later, next })
    const versions = await targetListVersions(station.ledger, id)
    expect(versions.map(({ version, who, edit }) => [version, who, edit])).toEqual([
      [0, 'Ash', null],
      [1, 'Bo', note],
    ])
  })

  it('is changed by one at a time: the second of two sees what the first did', async () => {
    const { id } = await makeProgram(station.ledger, fields, { said, list })
    await Promise.all([1, 2, 3, 4].map(() => changeTargetList(station.ledger, id, { said: later, next })))
    expect((await targetListVersions(station.ledger, id)).map(({ version }) => version)).toEqual([
      0, 1, 2, 3, 4,
    ])
  })
})
