/** What the demo's owner said of trap yards: the panels there are, other water for the camels' waters, and a plan. */
import type { House } from '../house.ts'
import { gateHoursOf } from '../http/gate-hours-answer.ts'
import { trapYardsOf } from '../http/trap-yards-answer.ts'
import { figuresOf } from '../http/yard-plans-answer.ts'
import { toStationTime } from '../station-time.ts'
import { keepYardPlan } from '../store/yard-plans.ts'
import { readYardMeans, sayOtherWater, sayYardMeans } from '../store/yard-words.ts'
import { nightsOn } from '../tally/nights.ts'
import type { NightDate } from '../words.ts'
import { demoZone } from './station.ts'

const WHO = 'demo'
const PORTABLE_YARDS = 3
const OTHER_WATER =
  'two fenced dams of the house paddock, where the cattle of these waters are meanwhile; roos and birds get in'
/** By then a yard that is put up now has had its weeks of open gates. */
const PLANNED_IN_DAYS = 35
const GATE = { cattleShare: 0.05, mostHours: 10 } as const
const NIGHTS = 7

/** Once the whole past is in; said again it changes nothing. */
export async function sayYardsInDemo({ ledger, now: clock }: Pick<House, 'ledger' | 'now'>): Promise<void> {
  if ((await readYardMeans(ledger)).saidAt !== null) return
  const now = clock()
  const said = { who: WHO, now }
  await sayYardMeans(ledger, { portableYards: PORTABLE_YARDS }, said)
  const species = 'camel'
  const [shared] = (await trapYardsOf(ledger, { species, now })).clusters
  // In a past of a few nights nobody can say which waters they share.
  if (shared === undefined || shared.unsureIds.length > 0) return
  const { pointIds } = shared
  await sayOtherWater(ledger, { pointIds, isSure: true, openPointIds: [], elsewhere: OTHER_WATER }, said)
  const first = nightsOn(toStationTime(now, demoZone).slice(0, 10) as NightDate, PLANNED_IN_DAYS)
  const { answer } = await gateHoursOf(ledger, {
    ...GATE,
    species,
    points: pointIds,
    chosen: null,
    first,
    nights: NIGHTS,
    now,
  })
  const plan = {
    name: 'Camels, the whole cluster',
    species,
    pointIds,
    fromNight: first,
    nights: NIGHTS,
    hours: answer.kind === 'window' ? { from: answer.from, to: answer.to } : null,
    cattleShare: GATE.cattleShare,
    note: 'Panels up and gates tied open first.',
  } as const
  await keepYardPlan(ledger, { plan, shown: await figuresOf(ledger, { plan, now }) }, said)
}
