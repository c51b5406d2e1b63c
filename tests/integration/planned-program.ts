/** A program for a test file, through the doors: with a change of its list, a link to it, and how a point is reached. */
import { expect } from 'vitest'
import { type Program, programAnswer } from '../../services/http/program-shapes.ts'
import { strictly, type TestService } from './service.ts'

const CAMELS = {
  name: 'Camels north',
  species: 'camel',
  method: 'trap yard',
  fromNight: '2026-12-07',
  toNight: '2026-12-11',
  who: 'Ash',
}

export async function makeProgram(service: TestService, change: object = {}): Promise<Program> {
  const answer = await service.send('POST', '/api/programs', { ...CAMELS, ...change })
  expect(answer.status, answer.bytes.toString()).toBe(201)
  return strictly(programAnswer, answer).program
}

/** With something in every part of it. */
export async function planProgram(
  service: TestService,
  pointId: number,
  change: object = {},
): Promise<Program> {
  const program = await makeProgram(service, change)
  const told = [
    await service.send('POST', `/api/programs/${program.id}/target-list`, {
      version: 0,
      edit: { kind: 'note', pointId, text: 'mob comes from the north' },
    }),
    await service.send('POST', `/api/programs/${program.id}/links`, { days: 7, forWhom: 'Bo' }),
    await service.send('PUT', `/api/points/${pointId}/access`, { gates: 'two locked, key at the homestead' }),
    await service.send('POST', '/api/distances', { distances: [{ from: 'home', to: pointId, km: 12.5 }] }),
  ]
  expect(told.map(({ status }) => status)).toEqual([201, 201, 200, 200])
  return program
}
