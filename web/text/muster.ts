/** Words of the muster, on screen and on paper alike. */
import type { MusterAnswerShape, MusterStepShape } from '../../services/http/muster-shapes.ts'
import { plural } from './counts.ts'
import { told } from './pressure.ts'
import { dayAndClock, dayName, nightAfter } from './times.ts'

type Versions = MusterAnswerShape['versions']
type NotMustered = MusterAnswerShape['notMustered'][number]['why']

export const musterWords = {
  title: 'Muster and drought',
  back: 'Programs',
  lead: 'Emptying points while cattle still have the condition to travel: which points first, with how many loads and days, and what is left behind at each step.',
  print: 'Print',
  arithmetic:
    '“Latest start on these figures” is arithmetic, not advice: it knows nothing of the condition of cattle, of roads after rain, or of prices.',
  inShort: 'In short',
  loads: 'Loads',
  daysOfWork: 'Days of work',
  latestStart: 'Latest start on these figures',
  giveEnd: 'Give the day by which all is to be done.',
  workedOutWith: 'Worked out with',
  steps: 'Point by point',
  stepsHint:
    'Sized for the high end of the cattle expected. Days count from the first day of work; with a day to end by, from the latest start for the high end. One crew sets and musters point after point while trucks empty the one before. Hours off water run from the first beast moved to the trough at the other end. Left behind are those to come and those a muster misses; points that are not in this muster are not in it.',
  earlier: (point: string) => `Muster ${point} one place earlier`,
  later: (point: string) => `Muster ${point} one place later`,
  byWater: 'Order by water again',
  change: 'Change',
  changeOne: (point: string) => `Change the figures of ${point}`,
  facts: {
    head: 'Cattle expected',
    yard: 'Yard',
    camp: 'Camp',
    muster: 'Muster',
    trucks: 'Trucks',
    loads: 'Decks and loads',
    hours: 'Hours a load',
    offWater: 'Hours off water',
    left: 'Left behind after it',
  },
  byHand: 'by hand',
  byCameras: (from: string, to: string) =>
    `by camera counts of ${dayName(from)} to ${dayName(to)}, or by hand`,
  tooLong: (most: number) => `The last load is longer off water than the ${told(most)} hours you gave.`,
  tooManyLoads: (loads: number, hours: number) =>
    `${plural(loads, 'load')} of ${told(hours)} hours don’t fit into a day: give fewer loads a day, or more trucks.`,
  eachWay: (km: number) => `${told(km)} km each way`,
  photos: (point: string) => `Photos of cattle at ${point}`,
  notMustered: 'Not in this muster',
  nobody: {
    what: 'No point can be mustered on these figures.',
    remedy:
      'Give the head of a point by hand, or a yard that can be carried, or wait until a camera has watched.',
  },
  noPoints: {
    what: 'No points yet.',
    remedy: 'Add your bores, tanks and troughs in Set-up, then come back.',
    action: 'Add points',
  },
  figures: 'What there is to do it with',
  figuresHint:
    'Your own figures go here; each change is kept beside the old ones. Figures that nobody has changed are from memory or common practice without a source: check them locally.',
  usual: 'From memory: check locally.',
  groups: {
    days: 'When',
    yards: 'Yards and crew',
    trucks: 'Trucks',
    road: 'Road and hours',
    rain: 'If no rain comes',
  },
  fields: {
    endBy: 'All done by the evening of',
    nights: 'Cattle expected from so many nights',
    musteredShare: 'Of the cattle there a muster brings in, per cent',
    portableYards: 'Yards that can be carried',
    daysToSet: 'Days to set one up',
    daysToMuster: 'Days to muster and draft a point',
    headADeck: 'Cattle a deck',
    decksATruck: 'Decks a truck',
    trucks: 'Trucks',
    loadsADay: 'Loads a truck makes in a day',
    km: 'Kilometres to the other end',
    kmAnHour: 'Loaded truck, kilometres an hour',
    musterHours: 'Hours from the first moved to the yard shut',
    nightHours: 'Hours in the yard overnight',
    loadHours: 'Hours to load',
    unloadHours: 'Hours from the ramp to the trough',
    mostHoursOffWater: 'Most hours off water by your code',
    days: 'Days without rain to get through',
    kgLow: 'Dry feed one dry sheep eats a day, kg, from',
    kgHigh: 'to',
    note: 'Why (kept with the figures)',
  },
  hints: {
    endBy: 'Empty: no latest start is worked out.',
    mostHoursOffWater: 'Look it up in your local code. Empty: none is held against the plan.',
  },
  save: 'Save and work out',
  point: {
    leftOut: 'No muster here',
    headLow: 'Cattle there by hand, at least',
    headHigh: 'at most',
    yard: 'Yard',
    yardAsSetUp: (there: boolean) => `As in Set-up: ${there ? 'stands there' : 'none there'}`,
    yardThere: 'Stands there',
    yardNone: 'None there',
    km: 'Kilometres to the other end from here',
    musterHours: 'Hours from the first moved to the yard shut',
    waterDays: 'Days until the water here is gone',
    feedLow: 'Dry feed left within a walk, kg, from',
    feedHigh: 'to',
    note: 'Note',
    hint: 'Empty: as the cameras, Set-up or the figures of all points say.',
  },
  feed: 'What if no rain comes',
  feedHint: (days: number) =>
    `How long the feed round each water lasts through ${plural(days, 'day')} without rain, on your own rating of it. A year’s growth, fire and what animals trample are not in it.`,
  feedHeads: {
    point: 'Point',
    says: 'Feed',
    lasts: 'Days it lasts',
    without: 'Without ferals',
    carries: 'Dry sheep it carries',
  },
  noFeed:
    'No point’s feed has been rated yet. Rate it under Change at a point: kilograms of dry feed left within a walk of the water.',
  cannotKnow: 'What these figures can’t know',
  unknowns: [
    'Counts are the least number seen by a machine and a camera, not a census: size yards, feed and trucks for the high end. Cattle that drink where no camera stands are not in them.',
    'A beast that drinks at two waters in a day is in both points’ cattle; one that comes in every second day counts as half a beast, unless the visits a day in Set-up say so.',
    'Condition, heat, calving, roads, breakdowns and how many balk at a yard are yours to judge.',
  ],
  versions: 'Earlier figures',
  noVersions: 'Nobody has given figures yet: these are the usual ones, from memory. Check them locally.',
  seeStanding: 'See the figures that stand',
  takeUp: 'Take these figures up again',
} as const

/** `Figures 3, Tue 24 Nov, 09:10, by Ada: wet road` */
export function versionWords({ version, at, who, note }: Versions[number]): string {
  return `Figures ${version}, ${dayAndClock(at)}, by ${who}${note === null ? '' : `: ${note}`}`
}

/** Whose figures they are, or that they are nobody's. */
export function versionLine({ version }: MusterAnswerShape): string {
  return version === null ? musterWords.noVersions : `${versionWords(version)}.`
}

/** `28 (16 to 46) at 10 points` */
export function expectedWords({ plan }: MusterAnswerShape): string {
  return `${headWords(plan.head)} at ${plural(plan.steps.length, 'point')}`
}

/** What the plan was worked out with, in one line. */
export function figuresWords({ figures }: MusterAnswerShape): string {
  const { means, haul, musteredShare } = figures
  return [
    `${plural(means.portableYards, 'yard')} that can be carried, ${plural(means.daysToSet, 'day')} to set one up`,
    `${plural(means.daysToMuster, 'day')} to muster a point, which brings in ${told(musteredShare * 100)} in 100`,
    `${plural(means.trucks, 'truck')} of ${plural(means.decksATruck, 'deck')} with ${means.headADeck} cattle each, ${plural(means.loadsADay, 'load')} a day`,
    `${told(haul.km)} km at ${told(haul.kmAnHour)} km/h`,
    `${told(haul.musterHours)} h of muster, ${told(haul.nightHours)} h overnight, ${told(haul.loadHours)} h to load, ${told(haul.unloadHours)} h from the ramp to the trough`,
  ].join('; ')
}

/** `3 (2 to 5)`, or `3` where all are alike. */
export function threeWords({ low, expected, high }: { low: number; expected: number; high: number }): string {
  return low === high ? String(high) : `${expected} (${low} to ${high})`
}

/** The latest start in words; null without a day to end by. */
export function latestStartWords({ plan, figures, today }: MusterAnswerShape): string[] | null {
  const { latestStart } = plan
  if (figures.endBy === null) return null
  if (latestStart === null) return ['None: on these figures it takes more than ten years.']
  const { high, expected } = latestStart
  const start =
    high === expected
      ? `${dayName(high)}.`
      : `${dayName(high)} for the high end of the cattle, ${dayName(expected)} for the number expected.`
  const gone =
    high < today ? ` ${dayName(high)} has passed: on these figures the high end can’t be done by then.` : ''
  return [`To be done by the evening of ${dayName(figures.endBy)}: ${start}${gone}`]
}

type Days = MusterStepShape['set']

/** `day 3`, `days 3 to 5`, with dates where the first day has one. `to` is the day after the last. */
export function daysWords({ from, to }: Days, firstDay: string | null): string {
  if (from === to) return 'no day'
  const [first, last] = [from + 1, to]
  const days = first === last ? `day ${first}` : `days ${first} to ${last}`
  if (firstDay === null) return days
  const date = (day: number) => dayName(nightAfter(firstDay, day - 1))
  return first === last ? `${days}, ${date(first)}` : `${days}, ${date(first)} to ${date(last)}`
}

export function yardWords({ fixedYard, set }: MusterStepShape, firstDay: string | null): string {
  return fixedYard ? 'stands there' : `carried: set up ${daysWords(set, firstDay)}`
}

/** `2 decks, 1 load`, for the high end; with the range of the loads. */
export function loadsWords({ decks, loads }: MusterStepShape): string {
  return `${plural(decks, 'deck')}, ${threeWords(loads)} ${loads.high === 1 ? 'load' : 'loads'}`
}

/** `27`; `27 of the first load, 51 of the last` */
export function offWaterWords({ hoursOffWater }: MusterStepShape): string {
  if (hoursOffWater === null) return 'no load'
  const { firstLoad, lastLoad } = hoursOffWater
  return firstLoad === lastLoad
    ? told(lastLoad)
    : `${told(firstLoad)} of the first load, ${told(lastLoad)} of the last`
}

/** `5 (3 to 8)`: whole head, the ends outwards. */
export function headWords({ low, rate, high }: MusterStepShape['head']): string {
  const whole = (head: number) => head.toLocaleString('en-AU')
  const [from, middle, to] = [Math.floor(low), Math.round(rate), Math.ceil(high)]
  return from === to ? whole(to) : `${whole(middle)} (${whole(from)} to ${whole(to)})`
}

const NOT_MUSTERED: Readonly<Record<NotMustered, string>> = {
  'left out': 'left out by hand.',
  'not watched':
    'not watched, so nobody can say how many cattle are there. Give the head by hand to plan it.',
  'no yard': 'no yard there, and none that can be carried.',
}
export const notMusteredWords = (why: NotMustered) => NOT_MUSTERED[why]
