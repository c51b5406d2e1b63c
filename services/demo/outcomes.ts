/** What the demo's finished program took, told as it is told at a yard; and a trip that one of its waters needs. */
import type { House } from '../house.ts'
import { askForJob, listJobs } from '../store/jobs.ts'
import type { Ledger } from '../store/open.ts'
import { recordOutcomes } from '../store/outcomes.ts'
import { listPoints } from '../store/points.ts'
import { listPrograms } from '../store/programs.ts'
import { recordTrapWords } from '../store/trap-log.ts'
import { readWaterRun } from '../store/water-run.ts'
import { nightOf } from '../tally/nights.ts'
import type { Instant } from '../words.ts'
import { clockOn, type DemoPeriod, demoDays } from './days.ts'
import { FINISHED } from './programs.ts'
import type { SavedPlan } from './saved-plan.ts'
import { demoPoint, demoZone } from './station.ts'

const WHO = 'demo'
const [MORNING_HOUR, LOADED_HOUR, HELD_SINCE_HOUR] = [7, 9, 22]
const LOAD_MINUTES = 20
const EFFORT = { amount: 1, unit: 'trap nights' } as const
const HAULAGE = { carrier: 'contractor, body truck', method: 'trap yard' } as const

/** Every morning's catch while the trap was set (states.ts): most of the camels there, fewer each time. */
export const TAKEN: readonly {
  readonly daysAgo: number
  readonly paper: string
  readonly classes: Readonly<Record<string, number>>
}[] = [
  { daysAgo: 37, paper: 'CR-0117', classes: { bulls: 2, cows: 5, young: 2 } },
  { daysAgo: 36, paper: 'CR-0118', classes: { cows: 4, young: 1 } },
  { daysAgo: 35, paper: 'CR-0119', classes: { cows: 2 } },
]
const headOf = (classes: Readonly<Record<string, number>>) =>
  Object.values(classes).reduce((sum, head) => sum + head, 0)

const JOB = {
  id: idOf(900),
  pointKey: 'lantern-bore',
  trouble: 'trough leak',
  person: 'Robin',
  note: 'Wet ground under the trough, and the tank drops faster than cattle drink.',
} as const

/** Once the programs are there; said again it changes nothing. */
export async function tellOutcomesInDemo(
  { ledger, now }: Pick<House, 'ledger' | 'now'>,
  { plan: { chapters } }: { readonly plan: SavedPlan },
): Promise<void> {
  await tellTaken(ledger, chapters[0]!)
  await askForTrip(ledger, now())
}

async function tellTaken(ledger: Ledger, period: DemoPeriod): Promise<void> {
  const program = (await listPrograms(ledger)).find(({ name }) => name === FINISHED.name)
  const pointId = await pointOf(ledger, FINISHED.pointKey)
  const days = demoDays(period)
  if (program === undefined) return
  for (const [turn, { daysAgo, paper, classes }] of TAKEN.entries()) {
    const day = days[daysAgo]
    const before = days[daysAgo + 1]
    if (day === undefined || before === undefined) return
    const [there, loaded] = [clockOn(day.date, MORNING_HOUR), clockOn(day.date, LOADED_HOUR, LOAD_MINUTES)]
    const common = { pointId, who: WHO, note: null, withdraws: null }
    const visit = { ...common, kind: 'visited' as const, class: null }
    const held = {
      held: headOf(classes),
      heldSince: clockOn(before.date, HELD_SINCE_HOUR),
      species: 'camel' as const,
    }
    const empty = { held: 0, heldSince: null, species: null }
    await recordTrapWords(ledger, {
      words: [{ ...visit, ...held, id: idOf(turn * 10 + 1), at: there }],
      now: there,
    })
    await recordTrapWords(ledger, {
      words: [{ ...visit, ...empty, id: idOf(turn * 10 + 2), at: loaded }],
      now: loaded,
    })
    await recordOutcomes(ledger, {
      words: Object.entries(classes).map(([name, head], index) => ({
        ...{ ...common, ...HAULAGE, kind: 'taken', species: 'camel', fate: 'trucked' },
        id: idOf(turn * 10 + 3 + index),
        programId: program.id,
        day: day.date,
        head,
        class: name,
        effort: EFFORT,
        paper,
      })),
      now: loaded,
    })
  }
}

async function askForTrip(ledger: Ledger, now: Instant): Promise<void> {
  const pointId = await pointOf(ledger, JOB.pointKey)
  if ((await listJobs(ledger, { which: 'all', limit: 1 })).length > 0) return
  const night = nightOf(now, demoZone)
  const [facts] = await readWaterRun(ledger, { night, now: new Date(now), pointId })
  const photo = facts?.lastStill ?? null
  if (photo === null) return
  const { pointKey: _, ...job } = JOB
  await askForJob(ledger, { ...job, pointId: null, stillId: photo.id, who: WHO }, now)
}

async function pointOf(ledger: Ledger, key: string): Promise<number> {
  const { name } = demoPoint(key)
  return (await listPoints(ledger)).find((point) => point.name === name)!.id
}

/** The demo's own, so that a second start says nothing twice. */
function idOf(number: number): string {
  return `00000000-0000-4000-8000-${String(number).padStart(12, '0')}`
}
