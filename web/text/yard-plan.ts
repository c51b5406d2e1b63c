/** Words of a gate plan: points by hand, hours, days, training, and keeping it. */
import type {
  GateHoursAnswer,
  KeptPlan,
  TrapYardsAnswer,
  YardPoint,
} from '../../services/http/trap-yard-shapes.ts'
import type { Species } from '../../services/words.ts'
import { LEAST_NUMBER, list, plural, speciesMany } from './counts.ts'
import { clockOfHours } from './hours.ts'
import { clockOf, dayAndClock, dayName } from './times.ts'
import { headRange, namesOf } from './trap-yards.ts'

export const planWords = {
  yours: 'Your plan',
  yoursHint:
    'What is proposed is ticked. Put the gates elsewhere and see what comes of it; what you choose stands, whatever is proposed.',
  gatesAt: 'Gates at',
  none: 'No gates yet: tick points to see what it would come to, and when to set them.',
  cantKeep: 'It can’t be kept as a plan yet:',
  when: 'When',
  cattle: 'Cattle visits in those hours',
  anyCattle: 'any number',
  atMost: (percent: number) => (percent === 0 ? 'none' : `at most ${percent} in 100`),
  longest: 'At the longest',
  hoursLong: (hours: number) => `${hours} h`,
  setAt: 'Set at',
  shutAt: 'Shut down at',
  workedOut: 'as worked out',
  first: 'First day',
  nights: 'Nights',
  byHand: 'Your hours.',
  noDays: 'Give a first day and how many nights, 1 to 60.',
  noWindow:
    'There is no half hour with so few cattle. Allow more cattle visits, or choose the hours yourself.',
  days: 'Days to set',
  day: 'Day',
  hours: 'Set, shut down',
  sun: 'Sun down, up',
  moon: 'Moon',
  training: 'Open gates first',
  trainingHint:
    'Animals new to a yard walk in only after weeks of open gates, and by their tracks you know. (Common practice, no source.) The days begin with the first use.',
  otherDay: 'First used on another day',
  otherDayLabel: (name: string) => `First used on another day: ${name}`,
  firstUsed: 'First used on',
  firstUsedHint: 'Empty: as the photos say',
  saveDay: 'Save the day',
  keep: 'Keep this plan',
  keepChange: (version: number) => `Keep as version ${version}`,
  name: 'Name of the plan',
  note: 'Note',
  kept: 'Plans that are kept',
  noneKept: 'No plan has been kept yet.',
  open: 'Open',
  change: 'Change',
  withdraw: 'Withdraw',
  withdrawLabel: (name: string) => `Withdraw the plan ${name}`,
  withdrawWarns: 'It goes off the list. Nothing of it is lost: its page can still be opened.',
  withdrawYes: 'Withdraw it',
  withdrawn: 'Withdrawn: this plan is on no list any more.',
  back: 'Trap yards',
  print: 'Print',
  version: 'Version',
  earlier: 'Versions',
  expected: 'What was expected when it was kept',
  points: 'Where',
  point: 'Point',
  yard: 'Yard',
  yardStands: 'stands',
  yardPortable: 'portable',
  trainedBy: 'Gates open first',
  otherWater: 'Other water',
  safety: 'Before a gate is set',
  notSure: (names: string) =>
    `Other water is not sure any more for ${names}: confirm it again before a gate is set.`,
} as const

export const yardMeansWords = {
  portable: 'Portable yards',
  nightsSet: 'Nights that gates are set',
  openWeeks: 'Weeks with gates tied open',
  checkingWeeks: 'Weeks with one-way gates before the trap is set',
  save: 'Save yards and weeks',
  range: (species: Species) => `Daily range of ${speciesMany(species)}, km`,
  rangeHint:
    'How far apart two waters may lie for the same animals to drink at both from day to day. Empty: the usual.',
  source: 'Where it was found',
  ownSource: 'Set on this station',
  saveRange: 'Save the range',
} as const

const percent = (share: number) => Math.round(share * 100)
const span = ({ low, high }: { readonly low: number; readonly high: number }) =>
  `${percent(low)} to ${percent(high)}`

/** `Set at 20:00, shut down at 08:00: 12 hours.` */
export function hoursTitle({ answer }: GateHoursAnswer): string {
  if (answer.kind !== 'window') return ''
  if (answer.hours === 24) return 'Set all day round.'
  return `Set at ${clockOfHours(answer.from)}, shut down at ${clockOfHours(answer.to)}: ${plural(answer.hours, 'hour')}.`
}

/** The chart for whoever can't see it; its numbers stand beside it in words. */
export function hoursChart({ species, answer }: GateHoursAnswer): string {
  const shaded = answer.kind === 'window' ? '; the hours of the plan are shaded' : ''
  return `Visits of ${speciesMany(species)} and of cattle by the hour of the day${shaded}.`
}

export function hoursLines(told: GateHoursAnswer): string[] {
  const { answer, species } = told
  const many = speciesMany(species)
  if (answer.kind === 'too few visits')
    return [
      `Too few visits of ${many} at these points to tell their hours: ${answer.visits}, and it takes ${answer.least}. Choose the hours yourself.`,
    ]
  if (answer.kind === 'no window') return [planWords.noWindow]
  const range = answer.target.interval === null ? 'too few nights for a range' : span(answer.target.interval)
  return [
    `${percent(answer.target.share)} in 100 visits of ${many} fall in these hours (${range}): ${plural(answer.target.visits, 'visit')} in ${plural(answer.nights, 'night')}.`,
    cattleLine(answer),
  ]
}

function cattleLine(answer: Extract<GateHoursAnswer['answer'], { kind: 'window' }>): string {
  const { cattle, cattleHeadANight, cattleVisits } = answer
  if (cattle === null)
    return `Cattle came too seldom (${plural(cattleVisits, 'visit')}) to know their hours, so no bound on cattle was kept: look in more often.`
  const range = cattle.interval === null ? '' : ` (${span(cattle.interval)})`
  const head =
    cattleHeadANight === null
      ? 'how many head that is on a night can’t be told yet'
      : `${headRange(cattleHeadANight)} of cattle a night meet a set trap`
  return `Cattle: ${percent(cattle.share)} in 100 of their visits${range}; ${head}.`
}

export function visitsLine({ visits, days, pointIds }: GateHoursAnswer): string {
  return `${plural(pointIds.length, 'trap')} for ${plural(days.length, 'day')}: at least ${plural(visits, 'visit')} of people to set traps, and more where heat, local codes or the number inside ask for it.`
}

type Sky = GateHoursAnswer['days'][number]['sky']
const PHASES: Readonly<Record<Sky['phase'], string>> = {
  new: 'new moon',
  waxing: 'waxing',
  full: 'full moon',
  waning: 'waning',
}

/** `full moon, 98 % lit, up 19:40`: its times while it is dark; by day it lights nothing. */
export function moonWords({ phase, lit, moonrise, moonset, sunset, sunrise }: Sky): string {
  const isDark = (time: string) =>
    (sunset === null || Date.parse(time) >= Date.parse(sunset)) &&
    (sunrise === null || Date.parse(time) <= Date.parse(sunrise))
  const times = [
    ...(moonrise !== null && isDark(moonrise) ? [`up ${clockOf(moonrise)}`] : []),
    ...(moonset !== null && isDark(moonset) ? [`down ${clockOf(moonset)}`] : []),
  ]
  return [PHASES[phase], `${percent(lit)} % lit`, ...times].join(', ')
}

export const sunWords = ({ sunset, sunrise }: Sky): string =>
  `${sunset === null ? '–' : clockOf(sunset)}, ${sunrise === null ? '–' : clockOf(sunrise)}`

const BY: Readonly<Record<NonNullable<YardPoint['training']['firstUsed']>['by'], string>> = {
  said: 'as said',
  'trap open': 'first visit since the trap was open',
  'yard there': 'first visit in the photos, with the yard there',
}
const STAGES: Readonly<Record<YardPoint['training']['stage'], string>> = {
  'not used yet': 'not used yet',
  'gates open': 'gates tied open',
  'one-way gates': 'one-way gates, look at tracks',
  'ready to set': 'ready to set, if the tracks say so',
}
const STEPS: Readonly<Record<YardPoint['training']['days'][number]['step'], string>> = {
  'tie gates open': 'tie gates open',
  'look at tracks': 'look at tracks',
  'hang one-way gates': 'hang one-way gates',
  'set the trap': 'set the trap',
}

const TRAPS: Readonly<Record<NonNullable<YardPoint['trap']>, string>> = {
  open: 'trap open now',
  set: 'trap set now',
  'shut down': 'trap shut down',
}
export const trapWords = ({ trap }: YardPoint): string | null => trap && TRAPS[trap]

export const stageWords = ({ training }: YardPoint): string => STAGES[training.stage]

export function trainingLine({ training, hasYard }: YardPoint): string {
  if (training.firstUsed === null)
    return hasYard
      ? 'The yard has not been seen used. Tie the gates open; the days begin with its first use.'
      : 'No yard stands there. Put panels up and tie the gates open; the days begin with the first use.'
  return `First used ${dayName(training.firstUsed.on)} (${BY[training.firstUsed.by]}).`
}

/** What is still to come, `today` included. */
export function stepsLeft({ training }: YardPoint, today: string): string | null {
  const left = training.days.filter(({ on }) => on >= today)
  if (left.length === 0) return null
  return `Still to come: ${list(left.map(({ on, step }) => `${STEPS[step]} ${dayName(on)}`))}.`
}

/** A point whose animals do not know the yard yet on the plan's first day. */
export function tooSoon(point: YardPoint, first: string): string | null {
  const ready = point.training.days.find(({ step }) => step === 'set the trap')?.on ?? null
  if (ready !== null && ready <= first) return null
  return ready === null
    ? 'animals do not know this yard yet'
    : `later than the plan’s first day: ${dayName(ready)} at the earliest`
}

export function leftOpenLines(
  answer: TrapYardsAnswer,
  leftOpen: ReadonlyArray<{ readonly clusterId: number; readonly openIds: readonly number[] }>,
): string[] {
  return leftOpen.map(
    ({ openIds }) =>
      `${namesOf(answer, openIds)} ${openIds.length === 1 ? 'stays' : 'stay'} open: animals that balk at a yard move on there.`,
  )
}

export function planLine(answer: TrapYardsAnswer | null, { plan, who, at, version }: KeptPlan): string {
  const where = answer === null ? plural(plan.pointIds.length, 'point') : namesOf(answer, plan.pointIds)
  const many = speciesMany(plan.species)
  return `${many.slice(0, 1).toUpperCase()}${many.slice(1)} at ${where}, from ${dayName(plan.fromNight)} for ${plural(plan.nights, 'night')}; kept by ${who}, ${dayAndClock(at)}${version > 1 ? `, version ${version}` : ''}`
}

export function expectedLines(answer: TrapYardsAnswer, { shown }: KeptPlan): string[] {
  const { met, of, notMet, closedWhole, shiftsTo, lookedAt } = shown
  return [
    `Comes to a set yard at least once: ${headRange(met)} of ${headRange(of)}.`,
    closedWhole
      ? 'Every water of the cluster is in the plan.'
      : `Waters of the cluster stay open: ${headRange(notMet)} not met, free to shift${
          shiftsTo.length === 0
            ? ''
            : ` to ${namesOf(
                answer,
                shiftsTo.map(({ pointId }) => pointId),
              )}`
        }.`,
    `From the nights ${dayName(lookedAt.from)} to ${dayName(lookedAt.to)}. ${LEAST_NUMBER}`,
  ]
}
