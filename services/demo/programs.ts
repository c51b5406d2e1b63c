/** The demo's programs, said as an owner says them: one that is over, and one that is planned. */
import type { House } from '../house.ts'
import { editTargetList, planProgram, sayProgramWord, targetListNow } from '../http/target-list-now.ts'
import type { TargetEdit } from '../planning/target-list.ts'
import { sayAccess } from '../store/access-notes.ts'
import type { Said } from '../store/kept-lists.ts'
import { listPoints } from '../store/points.ts'
import { listPrograms } from '../store/programs.ts'
import type { Instant } from '../words.ts'
import { clockOn, type DemoPeriod, demoDays, nightsBack } from './days.ts'
import type { SavedPlan } from './saved-plan.ts'
import { demoPoint } from './station.ts'

const WHO = 'demo'
/** Its trap was set and shut down on these days (states.ts). */
export const FINISHED = {
  name: 'Camels at Stony Turkey Nest',
  pointKey: 'stony-turkey-nest',
  plannedDaysAgo: 42,
  setDaysAgo: 38,
  shutDaysAgo: 35,
} as const
const PLANNED = { name: 'Donkeys before the wet', pointKeys: ['galah-well', 'snakewood-bore'] } as const
const PLANNED_IN_DAYS = 10
const PLANNED_NIGHTS = 5
const DAY_MS = 86_400_000

const ACCESS = [
  {
    pointKey: 'galah-well',
    road: 'graded track, sandy for the last 3 km',
    gates: 'two, the second locked; key at the homestead',
    wetSeason: 'cut off for days after 20 mm',
    turnaround: 'room for a body truck, not for a road train',
  },
  {
    pointKey: 'snakewood-bore',
    road: 'graded track',
    gates: 'three, none locked',
    wetSeason: null,
    turnaround: 'road train, east of the tank',
  },
  {
    pointKey: 'stony-turkey-nest',
    road: 'stony, 20 km/h for the last stretch',
    gates: 'one, at the boundary fence',
    wetSeason: null,
    turnaround: 'body truck, beside the yard',
  },
] as const

/** Once the whole past is in; said again it changes nothing. */
export async function planProgramsInDemo(
  { ledger, now }: Pick<House, 'ledger' | 'now'>,
  { plan: { chapters } }: { readonly plan: SavedPlan },
): Promise<void> {
  if ((await listPrograms(ledger)).length > 0) return
  const points = await listPoints(ledger)
  const idOf = (key: string) => points.find(({ name }) => name === demoPoint(key).name)!.id
  const said = { at: now(), who: WHO }
  for (const { pointKey, ...access } of ACCESS)
    await sayAccess(ledger, { ...said, pointId: idOf(pointKey), access })
  await finishedProgram(ledger, chapters[0]!, idOf)
  await plannedProgram(ledger, said, idOf)
}

type IdOf = (pointKey: string) => number

async function finishedProgram(ledger: House['ledger'], period: DemoPeriod, idOf: IdOf): Promise<void> {
  const days = demoDays(period)
  const [planned, set, shut] = [FINISHED.plannedDaysAgo, FINISHED.setDaysAgo, FINISHED.shutDaysAgo].map(
    (daysAgo) => days[daysAgo]?.date,
  )
  // A demo with a short past has no such days.
  if (planned === undefined || set === undefined || shut === undefined) return
  const { id } = await planProgram(
    ledger,
    {
      name: FINISHED.name,
      species: 'camel',
      method: 'trap yard',
      fromNight: set,
      toNight: nightsBack(clockOn(shut, 12), 1),
      note: 'Portable panels; contractor trucks from the yard.',
    },
    { at: clockOn(planned, 19), who: WHO },
  )
  await keepOnly(ledger, id, {
    pointIds: [idOf(FINISHED.pointKey)],
    said: { at: clockOn(planned, 19, 10), who: WHO },
  })
  await sayProgramWord(ledger, id, { word: 'finished', said: { at: clockOn(shut, 17), who: WHO } })
}

async function plannedProgram(ledger: House['ledger'], said: Said, idOf: IdOf): Promise<void> {
  const fromNight = nightsBack((said.at + PLANNED_IN_DAYS * DAY_MS) as Instant, 0)
  const toNight = nightsBack((said.at + (PLANNED_IN_DAYS + PLANNED_NIGHTS - 1) * DAY_MS) as Instant, 0)
  const { id } = await planProgram(
    ledger,
    { name: PLANNED.name, species: 'donkey', method: 'trap yard', fromNight, toNight, note: null },
    said,
  )
  await keepOnly(ledger, id, { pointIds: PLANNED.pointKeys.map(idOf), said })
  await say(ledger, id, said, {
    kind: 'note',
    pointId: idOf('galah-well'),
    text: 'Neighbour’s branded mare waters here: look before anything is trucked.',
  })
}

/** These points and no others, one change of the list after the other. */
async function keepOnly(
  ledger: House['ledger'],
  programId: number,
  { pointIds, said }: { readonly pointIds: readonly number[]; readonly said: Said },
): Promise<void> {
  const { list } = await targetListNow(ledger, programId, said.at)
  const on = list.lines.map(({ pointId }) => pointId)
  for (const pointId of pointIds.filter((id) => !on.includes(id)))
    await say(ledger, programId, said, { kind: 'add', pointId })
  for (const pointId of on.filter((id) => !pointIds.includes(id)))
    await say(ledger, programId, said, { kind: 'drop', pointId })
}

async function say(ledger: House['ledger'], programId: number, said: Said, edit: TargetEdit): Promise<void> {
  const { version } = await targetListNow(ledger, programId, said.at)
  await editTargetList(ledger, programId, { edit, version, said })
}
