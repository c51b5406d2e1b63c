/** Words of a program that has been: what changed, what moved next door, how many there were. */
import type { DidItWorkAnswer, WorkedChange, WorkedPoint } from '../../services/http/did-it-work-shapes.ts'
import type { Fate } from '../../services/tally/fates.ts'
import { head as headOf, list, plural, speciesMany } from './counts.ts'
import { nightsNumber, told } from './pressure.ts'
import { dayAndClock, dayName, nightAfter } from './times.ts'

type Nights = DidItWorkAnswer['before']

export const didItWorkWords = {
  head: 'Did it work',
  print: 'Print',
  changed: 'What changed',
  setRange: 'Set it under Trap yards',
  compare: 'Change what is compared',
  compareHint:
    'Equal spells are the usual: as many nights before as after, four weeks each at most. Points of the program are where something was taken, else those on its target list.',
  before: 'Nights before',
  after: 'Nights after',
  points: 'Points of the program',
  compareNow: 'Compare',
  usual: 'The usual again',
  tableHint:
    'Visits in watched nights. A number opens its photos. “More” and “fewer” are by more than chance does among so many points; “worth a look” may be chance.',
  table: 'Before and after, point by point',
  heads: { point: 'Point', before: 'Before', after: 'After', change: 'Change, times as many a night' },
  ofProgram: 'of the program',
  together: 'All points of the program',
  neighbours: 'All points next door',
  expectedMet: 'Expected and taken',
  expectedHint:
    'Expected is head on a night, as it was kept; taken is the sum over the program. They are not the same thing: a night’s head comes again the next night until it is taken.',
  noOutcomes: 'No outcomes of this program are entered.',
  outcomes: 'All outcomes',
  expectedHeads: {
    point: 'Point',
    expected: 'Expected on a night',
    largest: 'Largest group',
    taken: 'Taken',
    released: 'Let go',
  },
  days: 'Taken day by day',
  dayHeads: { day: 'Day', taken: 'Taken', released: 'Let go' },
  removal: 'How many there were',
  removalHint:
    'When a catch falls from round to round, how fast it falls tells how many there were before the first. It holds only while none come or go, and while each has the same chance of being caught.',
  rounds: 'Rounds',
  roundHeads: {
    round: 'Round',
    taken: 'Taken',
    released: 'Let go',
    effort: 'Effort',
    rate: 'Taken per effort',
  },
  roundLength: 'A round is',
  byDay: 'a day',
  byWeek: 'seven days',
  effort: 'Effort',
  asWritten: 'as written down',
  allEqual: 'the same each round, by your word',
  share: 'More rounds to take',
  ofHundred: (share: number) => `${share} in 100`,
  cannotKnow: 'What this can’t know',
  unknowns: [
    'Why: rain, feed, a neighbour’s muster or shooting and the season change visits too. Last year’s same nights are held against it where cameras watched then.',
    'Animals that shied away from a point come back; some of what is “fewer” may be caution.',
    'Waters without a camera, and what went further than a species’ daily range.',
    'Counts are the least number seen by a machine and a camera, not a census.',
  ],
} as const

/** `Fewer camels here, more next door: at Kite Bore.` */
export function saysWords(answer: DidItWorkAnswer): string {
  const many = speciesMany(answer.program.species)
  switch (answer.says) {
    case 'fewer here':
      return `Fewer ${many} here since the program.`
    case 'fewer here, more next door':
      return `Fewer ${many} here, more next door: ${nextDoorWords(answer)}.`
    case 'fewer here, as last year':
      return `Fewer ${many} here, but last year’s same nights fell as well: the season may be why.`
    case 'no clear change':
      return `No clear change of ${many} here.`
    case 'more than before':
      return `More ${many} here than before the program.`
    case 'too few nights to tell':
      return answer.after === null
        ? 'No night after the program is over yet.'
        : 'Too few watched nights or visits to tell.'
    case 'photos still being read':
      return 'Photos of these nights are still being read: nobody can say yet.'
  }
}

function nextDoorWords({ points }: DidItWorkAnswer): string {
  const more = points.filter(({ part, change }) => part === 'neighbour' && change.verdict === 'more')
  return more.length === 0 ? 'at its neighbours together' : `at ${list(more.map(({ name }) => name))}`
}

/** `noon Wed 23 Sep to noon Wed 21 Oct, 28 nights` */
export function spanWords({ from, to }: Nights): string {
  const nights = Math.round((Date.parse(to) - Date.parse(from)) / 86_400_000) + 1
  return `noon ${dayName(from)} to noon ${dayName(nightAfter(to, 1))}, ${plural(nights, 'night')}`
}

/** Which nights are compared, and which are in neither spell. */
export function spellLines({ own, before, after }: DidItWorkAnswer): string[] {
  return [
    `Before: ${spanWords(before)}.`,
    after === null ? 'After: none yet.' : `After: ${spanWords(after)}.`,
    `In neither: the program’s own days, ${spanWords(own)}.`,
  ]
}

/** `10 in 17.8 nights`; `not watched` */
export function countWords({ visits, watchedNights }: WorkedPoint['before']): string {
  return watchedNights === 0 ? 'not watched' : `${visits} in ${nightsNumber(watchedNights)} nights`
}

/** `0.38 (0.11 to 1.2)`; `no visit before` */
export function timesWords({ ratio, low, high, p }: WorkedChange): string {
  if (p === null || low === null) return 'not to be told'
  if (ratio === null) return low > 0 ? `at least ${told(low)}` : 'none in either'
  return `${told(ratio)} (${told(low)} to ${high === null ? 'no end' : told(high)})`
}

/** `At the program’s points 0.25 times as many visits a night as before (0.081 to 0.69). Chance alone ...` */
export function chanceWords(change: WorkedChange): string | null {
  if (change.p === null || change.ratio === null) return null
  const inThousand = Math.round(change.p * 1000)
  const chance =
    inThousand === 0
      ? 'Chance alone would show as much less than once in 1,000 such programs.'
      : `Chance alone would show as much in ${inThousand.toLocaleString('en-AU')} of 1,000 such programs.`
  return `At the program’s points ${timesWords(change).replace(' (', ' times as many visits a night as before (')}. ${chance}`
}

/** What last year's same nights say; null without them. */
export function seasonWords({ season, lastYear }: DidItWorkAnswer): string | null {
  if (season === null || lastYear === null)
    return 'Last year’s same nights were not watched: what the season does is not known.'
  return `Against last year’s same nights (${dayName(lastYear.before.from)} to ${dayName(lastYear.after.to)} ${lastYear.after.to.slice(0, 4)}): ${told(season.ratio)} times the season’s own change (${told(season.low)} to ${told(season.high)}; 1 would be the season alone).`
}

/** `Next door is within 25 km (from memory, check locally).` */
export function rangeLine({ range, program }: DidItWorkAnswer): string {
  const source = range.own ? `${range.source}, your own` : range.source
  return `Next door is within ${told(range.km)} km, how far apart waters may lie for the same ${speciesMany(program.species)} to use both (${source}).`
}

/** How visits vary beside chance: it widens every range here. */
export function dispersionLine({ dispersion }: DidItWorkAnswer): string {
  if (dispersion === null)
    return 'Too few nights to tell how visits vary from night to night, so no change can be told.'
  return dispersion < 1.05
    ? 'Visits vary from night to night as by chance alone.'
    : `Visits vary from night to night ${told(dispersion)} times as much as by chance alone; every range here is widened by that.`
}

/** `Water off on Tue 3 Nov, trap set on Wed 21 Oct: the spells may be unlike.` */
export function unlikeLine({ states }: WorkedPoint): string | null {
  if (states.length === 0) return null
  const words = states.map(({ kind, at }) => `${kind} on ${dayName(at)}`).join(', ')
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}: the spells may be unlike.`
}

/** Flagged photos of both spells that nobody has looked at. */
export function toCheckLine({ points }: DidItWorkAnswer): string | null {
  const photos = points.reduce((sum, { toCheck }) => sum + toCheck, 0)
  return photos === 0
    ? null
    : `${plural(photos, 'flagged photo')} of these nights still to check: the numbers may change.`
}

const FATE_WORDS: Readonly<Record<Fate, string>> = {
  trucked: 'trucked',
  released: 'let go',
  destroyed: 'destroyed',
  died: 'died',
}

/** `22 camels taken: 21 trucked, 1 died. 2 let go.` */
export function metWords({ met, program }: DidItWorkAnswer): string {
  const gone = met.byFate.filter(({ fate }) => fate !== 'released')
  const parts = gone.map(({ fate, head }) => `${head.toLocaleString('en-AU')} ${FATE_WORDS[fate]}`)
  const taken = `${headOf(program.species, met.head)} taken${parts.length === 0 ? '' : `: ${parts.join(', ')}`}.`
  const released = met.released === 0 ? '' : ` ${met.released.toLocaleString('en-AU')} let go again.`
  const others = met.others.map(({ species, head }) => headOf(species, head))
  return `${taken}${released}${others.length === 0 ? '' : ` Also ${list(others)}.`}`
}

/** When the list was kept, and whether that was in time. */
export function expectedLine({ at, late, nights }: NonNullable<DidItWorkAnswer['expected']>): string {
  const when = late ? 'kept only once the program had begun' : 'kept before the program began'
  return `The target list as of ${dayAndClock(at)}, ${when}; it rests on the nights of ${dayName(nights.from)} to ${dayName(nights.to)}.`
}
