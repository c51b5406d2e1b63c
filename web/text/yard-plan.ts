/** Words of a gate plan: points by hand, hours, days, training, and keeping it. */
import type { KeptPlan, TrapYardsAnswer } from '../../services/http/trap-yard-shapes.ts'
import type { Species } from '../../services/words.ts'
import { LEAST_NUMBER, plural, speciesMany } from './counts.ts'
import { headRange } from './head-range.ts'
import { dayAndClock, dayName } from './times.ts'
import { namesOf } from './trap-yards.ts'

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
