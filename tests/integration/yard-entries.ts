/** What a person at a yard sends, for tests: head taken, words on the trap, a job. */
import { randomUUID } from 'node:crypto'
import { makeProgram } from '../../services/store/programs.ts'
import type { NightDate } from '../../services/words.ts'
import type { TestService } from './service.ts'

export const taken = (pointId: number, said: object = {}) => ({
  kind: 'taken',
  id: randomUUID(),
  pointId,
  species: 'camel',
  day: '2026-11-24',
  method: 'trap yard',
  head: 7,
  fate: 'trucked',
  ...said,
})

export const trapWord = (pointId: number, kind: string, at: string, said: object = {}) => ({
  kind,
  id: randomUUID(),
  pointId,
  at,
  ...said,
})

/** A program of no points, to tell outcomes to. */
export async function addProgram({ house }: TestService): Promise<number> {
  const [from, to] = ['2026-11-20' as NightDate, '2026-11-24' as NightDate]
  const fields = { species: 'camel', method: 'trap yard', fromNight: from, toNight: to, note: null } as const
  const { id } = await makeProgram(
    house.ledger,
    { ...fields, name: 'Camels' },
    { said: { at: house.now(), who: 'Ash' }, list: { nights: { from, to }, lines: [] } },
  )
  return id
}

/** A program, two entries of which one is corrected, a set trap with head held, and a job at the point. */
export async function sendYardEntries(service: TestService, pointId: number): Promise<void> {
  const programId = await addProgram(service)
  const first = taken(pointId, { programId, effort: { amount: 1, unit: 'trap nights' }, class: 'cows' })
  await service.send('POST', '/api/outcomes', {
    who: 'Ash',
    words: [first, taken(pointId, { programId, head: 9, withdraws: first.id, carrier: 'a carrier' })],
  })
  await service.send('POST', '/api/trap-log', {
    who: 'Ash',
    words: [
      trapWord(pointId, 'trap set', '2026-11-24T07:00:00+10:30'),
      trapWord(pointId, 'visited', '2026-11-25T06:00:00+10:30', { held: 4, species: 'camel' }),
    ],
  })
  await service.send('POST', '/api/jobs', { id: randomUUID(), pointId, trouble: 'float', person: 'Robin' })
}
