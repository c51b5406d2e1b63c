/** Programs, their rounds and how points are reached, over the API. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import {
  type Program,
  programAnswer,
  programHistory,
  programsAnswer,
  targetListAnswer,
} from '../../services/http/program-shapes.ts'
import { makeProgram } from './planned-program.ts'
import { everyNights, openProgramStation, type ProgramStation } from './program-station.ts'
import { MORNING, problemOf, strictly } from './service.ts'

/** Two in the west and two in the east, so that the list's order (most head first) goes back and forth. */
const POINTS = [
  { name: 'West One', lat: -28.1, lon: 133.5, came: everyNights(1, { camel: 9 }) },
  { name: 'East One', lat: -28.1, lon: 134.5, came: everyNights(2, { camel: 6 }) },
  { name: 'West Two', lat: -28.3, lon: 133.5, came: everyNights(4, { camel: 4 }) },
  { name: 'East Two', lat: -28.3, lon: 134.5, came: everyNights(9, { camel: 1 }) },
]
const ROUND = ['West One', 'West Two', 'East Two', 'East One']

let station: ProgramStation
let program: Program
beforeAll(async () => {
  station = await openProgramStation(POINTS)
  program = await makeProgram(station.service)
})
afterAll(() => station?.stop())

const send = (method: string, path: string, body: unknown) => station.service.send(method, path, body)
const list = async () =>
  strictly(targetListAnswer, await station.service.ask(`/api/programs/${program.id}/target-list`))
const change = (version: number, edit: object, who = 'Ash') =>
  send('POST', `/api/programs/${program.id}/target-list`, { version, edit, who })

describe('a program', () => {
  it('says how far it has come by its nights, and by what people say of it', async () => {
    const other = await makeProgram(station.service, {
      name: 'Short',
      fromNight: '2026-11-26',
      toNight: '2026-11-27',
    })
    const stateAt = async (time: string) => {
      station.service.setClock(time)
      const { programs } = strictly(programsAnswer, await station.service.ask('/api/programs'))
      return programs.find(({ id }) => id === other.id)!.state
    }
    expect(await stateAt('2026-11-26T11:59:00+10:30')).toBe('planned')
    expect(await stateAt('2026-11-26T12:00:00+10:30')).toBe('going on')
    expect(await stateAt('2026-11-28T11:59:00+10:30')).toBe('going on')
    expect(await stateAt('2026-11-28T12:00:00+10:30')).toBe('nights are over')
    const told = await send('POST', `/api/programs/${other.id}/words`, { word: 'finished' })
    expect(strictly(programAnswer, told).program).toMatchObject({
      state: 'finished',
      overSince: '2026-11-28T12:00:00+10:30',
    })
    problemOf(await send('PATCH', `/api/programs/${other.id}`, { name: 'x' }), 409)
    station.service.setClock(MORNING)
  })

  it('is changed, and what stood before stays readable', async () => {
    const other = await makeProgram(station.service, { name: 'First name' })
    const answer = await send('PATCH', `/api/programs/${other.id}`, { name: 'Second name', who: 'Bo' })
    expect(strictly(programAnswer, answer).program).toMatchObject({
      name: 'Second name',
      method: 'trap yard',
    })
    const { words } = strictly(programHistory, await station.service.ask(`/api/programs/${other.id}`))
    expect(words.map(({ word, who, name }) => [word, who, name])).toEqual([
      ['made', 'Ash', 'First name'],
      ['changed', 'Bo', 'Second name'],
    ])
  })

  it.each([
    [{ toNight: '2026-12-06' }, 'toNight'],
    [{ toNight: '2028-12-06' }, 'toNight'],
    [{ species: 'emu' }, 'species'],
    [{ method: ' ' }, 'method'],
    [{ colour: 'red' }, 'colour'],
  ])('%j is refused at its field', async (wrong, field) => {
    const right = {
      ...{ name: 'A', species: 'camel', method: 'ground', fromNight: '2026-12-07', toNight: '2026-12-08' },
    }
    expect(problemOf(await send('POST', '/api/programs', { ...right, ...wrong }), 400).field).toBe(field)
  })
})

describe('the list over the API', () => {
  it('a change on an older version is refused with what to do', async () => {
    const { version, lines } = await list()
    const first = { kind: 'note', pointId: lines[0]!.pointId, text: 'first' }
    expect((await change(version, first)).status).toBe(201)
    const problem = problemOf(await change(version, { ...first, text: 'second' }, 'Bo'), 409)
    expect(problem).toMatchObject({
      field: 'version',
      remedy: 'Load the list again: somebody has changed it since.',
    })
    expect((await list()).lines[0]!.note).toBe('first')
  })

  it('its round is that of its order; the shorter one is offered, and taken it is the list', async () => {
    const { lines, round, shorter, version } = await list()
    expect(lines.map(({ name }) => name)).toEqual(POINTS.map(({ name }) => name))
    const names = new Map(lines.map(({ pointId, name }) => [pointId, name]))
    expect(shorter!.order.map((id) => names.get(id))).toEqual(ROUND)
    expect(shorter!.shortest).toBe(true)
    expect(shorter!.km).toBeLessThan(round.km)
    await change(version, { kind: 'order', pointIds: shorter!.order })
    const after = await list()
    expect(after.lines.map(({ name }) => name)).toEqual(ROUND)
    expect(after.round.km).toBe(shorter!.km)
    expect(after.shorter).toBeNull()
  })

  it('the owner’s distances go before the map, and speed makes the hours', async () => {
    await send('PUT', '/api/driving', { kmAnHour: 50, minutesAtPoint: 60 })
    const file =
      'from,to,km\nhomestead,west one,20\nWEST ONE,West Two,60.5\nEast Two,West Two,70\nEast Two,East One,30\nEast One,Homestead,120\n'
    const loaded = await station.service.ask('/api/distances/file', {
      method: 'POST',
      headers: { 'Content-Type': 'text/csv' },
      body: file,
    })
    expect(loaded.status).toBe(200)
    const { round, driving } = await list()
    expect(round.legs.map(({ km, straight }) => [km, straight])).toEqual([
      [20, false],
      [60.5, false],
      [70, false],
      [30, false],
      [120, false],
    ])
    // 300.5 km at 50 km/h, and an hour at each of four points.
    expect([round.km, round.hours]).toEqual([300.5, 10.01])
    expect(driving).toEqual({ kmAnHour: 50, minutesAtPoint: 60, own: true })
  })

  it('a distance taken back is the map’s again; a later word holds both ways', async () => {
    const near = station.idOf('West One')
    await send('POST', '/api/distances', { distances: [{ from: near, to: 'home', km: 33 }] })
    expect((await list()).round.legs[0]).toMatchObject({ km: 33, straight: false })
    await send('POST', '/api/distances', { distances: [{ from: 'home', to: near, km: null }] })
    expect((await list()).round.legs[0]!.straight).toBe(true)
  })

  it.each([
    ['from,to,km\nWest One,Nowhere,5\n', 'row 1.to'],
    ['from,to,km\nWest One,East One,5\nWest One,West One,5\n', 'row 2.to'],
    ['from,to,km\nWest One,East One,0\n', 'row 1.km'],
    ['from,to\nWest One,East One\n', 'row 1.km'],
    ['from,to,km\n"West One,East One,5\n', 'file'],
  ])('a file with a fault is refused whole, at its row: %j', async (text, field) => {
    const before = (await station.service.ask('/api/distances')).json
    const answer = await station.service.ask('/api/distances/file', {
      method: 'POST',
      headers: { 'Content-Type': 'text/csv' },
      body: text,
    })
    expect(problemOf(answer, 400).field).toBe(field)
    expect((await station.service.ask('/api/distances')).json).toEqual(before)
  })

  it('how a point is reached stands on the list; what was said before is kept', async () => {
    const point = station.idOf('East One')
    for (const gates of ['one', 'two, the second locked'])
      expect((await send('PUT', `/api/points/${point}/access`, { gates, who: 'Ash' })).status).toBe(200)
    expect((await list()).lines.find(({ pointId }) => pointId === point)!.access).toMatchObject({
      gates: 'two, the second locked',
      road: null,
      who: 'Ash',
    })
    const kept = await station.ledger.selectFrom('access_notes').select('gates').orderBy('id').execute()
    expect(kept.map(({ gates }) => gates)).toEqual(['one', 'two, the second locked'])
    problemOf(await send('PUT', '/api/points/999/access', { road: 'x' }), 404)
  })
})
