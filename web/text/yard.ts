/** Words of At the yard: what is entered there, what waits, and what was entered before. */
import type { OutcomeAnswer, OutcomesAnswer, TrapEntryAnswer } from '../../services/http/yard-shapes.ts'
import { FATES, type Fate } from '../../services/tally/fates.ts'
import { TRAP_WORDS, type TrapWordKind } from '../../services/tally/trap-visits.ts'
import type { Species } from '../../services/words.ts'
import { head as headOf, plural } from './counts.ts'
import { clockOf, dayAndClock, dayName } from './times.ts'

const TRAP_NAMES: Readonly<Record<TrapWordKind, string>> = {
  'trap set': 'Trap set',
  visited: 'Visited',
  'trap open': 'Trap open',
  'trap shut down': 'Shut down',
}
const FATE_NAMES: Readonly<Record<Fate, string>> = {
  trucked: 'Trucked',
  released: 'Released',
  destroyed: 'Destroyed',
  died: 'Died',
}
const TRAP_ORDER: readonly TrapWordKind[] = ['visited', 'trap set', 'trap open', 'trap shut down']

export const trapChoices = TRAP_ORDER.filter((kind) => TRAP_WORDS.includes(kind)).map((value) => ({
  value,
  words: TRAP_NAMES[value],
}))
export const fateChoices = FATES.map((value) => ({ value, words: FATE_NAMES[value] }))

export const yardWords = {
  title: 'At the yard',
  link: 'At the yard',
  who: 'Your name',
  point: 'Point',
  here: (name: string) => `At ${name}`,
  yardHere: ', trap yard',
  trapHead: 'The trap',
  trapDone: 'What was done',
  at: 'When',
  atHint: 'Station time. Leave it as it is for now.',
  now: 'When: now',
  otherTime: 'Another time',
  enterWhat: 'What do you enter?',
  held: 'Head inside now',
  heldHint: '0 for an empty trap. Left empty, nothing is said of it.',
  heldSince: 'Inside since',
  heldSpecies: 'Of what',
  anySpecies: 'not said',
  class: 'Class',
  classHint: 'As you call them: bulls, cows, young.',
  note: 'Note',
  save: 'Save',
  takenHead: 'Head taken',
  program: 'Program',
  noProgram: 'none',
  species: 'Species',
  day: 'Day',
  method: 'Method',
  head: 'Head',
  headHint: '0 for a day on which nothing was taken: it tells how the catch falls.',
  fate: 'What became of them',
  more: 'Effort, carrier, movement paper, note',
  effort: 'Effort',
  effortHint:
    'What the whole day at this point took. The same unit for all days of a program: trap nights, hours.',
  unit: 'in',
  carrier: 'Carrier',
  paper: 'Movement paper number',
  entries: 'Entered here',
  entriesHint:
    'The last ones of this point. Nothing is overwritten: what was put right or taken back can still be read.',
  entriesFailed: 'What was entered before can’t be shown while the link is gone.',
  none: 'Nothing entered here yet.',
  waitingTag: 'waits on this phone',
  putRight: 'Put right',
  takeBack: 'Take back',
  takeBackSure: 'Yes, it was wrong',
  keepIt: 'Leave it',
  throwAway: 'Throw away',
  throwAwaySure: 'Yes, throw it away',
  cancel: 'Leave it as it was',
  puttingRight: (words: string) => `Putting right: ${words}`,
  kept: (words: string) => `Kept on this phone: ${words}.`,
  takenBackSaid: 'Taken back.',
  waiting: (count: number) => `${plural(count, 'entry', 'entries')} kept on this phone, not sent yet.`,
  waitingKept: 'They go by themselves once the link is back. You can close the page.',
  waitingOpen: 'This browser keeps nothing: leave the page open until they are sent.',
  sendNow: 'Try now',
  notTaken: 'Not taken',
  notTakenHint:
    'The station did not take these as they are. They stay here until you put them right or throw them away.',
  trapsNow: 'Traps that ask for a visit',
  noTrapsSet: 'No trap is set and nothing is held, as far as it was entered.',
  trapsUnknown: 'How the traps stand can’t be told while the link is gone.',
  offline: 'No link: points and programs are as they were when there was one.',
  noPoints: {
    what: 'No points yet.',
    remedy: 'Add your bores, tanks and troughs in Set-up.',
    action: 'Add points',
  },
  outcomesHead: 'Outcomes',
  enter: 'Enter what was taken',
  csv: 'Download (CSV)',
  noOutcomes: {
    what: 'Nothing taken has been entered for this program.',
    remedy: 'Enter it at the yard, on any phone, with a link or without one.',
    action: 'At the yard',
  },
  sums: 'Taken in all',
  history: 'Entered',
  days: 'By day',
  leastHint:
    'Head as people entered it, not as a camera counted it. Those released may come back, so they are not gone.',
} as const

/** `7 camels (cows), trucked` */
export function takenWords(one: {
  readonly species: Species
  readonly head: number
  readonly class?: string | null | undefined
  readonly fate: Fate
}): string {
  if (one.head === 0) return `Nothing taken (${one.species})`
  const of = one.class === null || one.class === undefined ? '' : ` (${one.class})`
  return `${headOf(one.species, one.head)}${of}, ${one.fate}`
}

export const fateName = (fate: Fate): string => FATE_NAMES[fate]

/** `14 camels trucked, 2 camels released` */
export function sumWords(sums: OutcomesAnswer['sums']): string {
  if (sums.length === 0) return 'nothing that stands'
  return sums.map(({ species, head, fate }) => `${headOf(species, head)} ${fate}`).join(', ')
}

/** The effort of a day's entries: at one point it counts once, the most that was told (planning/removal-rounds.ts). */
export function effortWords(rows: ReadonlyArray<Pick<OutcomeAnswer, 'effort' | 'pointId'>>): string {
  const points = [...new Set(rows.map(({ pointId }) => pointId))]
  const most = points.flatMap((id) => {
    const told = rows.flatMap(({ pointId, effort }) => (pointId === id && effort !== null ? [effort] : []))
    return told.sort((a, b) => b.amount - a.amount).slice(0, 1)
  })
  return most.map(({ amount, unit }) => `${amount} ${unit}`).join(', ')
}

/** `Visited, 14 camels inside` */
export function trapEntryWords(one: {
  readonly kind: TrapWordKind
  readonly held?: number | null | undefined
  readonly species?: Species | null | undefined
}): string {
  const { held = null, species = null } = one
  if (held === null) return TRAP_NAMES[one.kind]
  const inside = species === null ? `${held} head` : headOf(species, held)
  return `${TRAP_NAMES[one.kind]}, ${held === 0 ? 'nothing' : inside} inside`
}

/** What else an entry says: `trap yard, 1 trap nights, carrier ..., paper ..., note` */
export function takenDetail(one: OutcomeAnswer): string {
  return [
    one.method,
    one.effort === null ? null : `${one.effort.amount} ${one.effort.unit}`,
    one.carrier,
    one.paper === null ? null : `paper ${one.paper}`,
    one.note,
  ]
    .filter(Boolean)
    .join(', ')
}

/** `taken back by Robin, Tue 24 Nov, 06:10: wrong point`; null for one that stands. */
export function takenBackWords(back: TrapEntryAnswer['takenBack']): string | null {
  if (back === null) return null
  const what = back.corrected ? 'put right by' : 'taken back by'
  return `${what} ${back.who}, ${dayAndClock(back.at)}${back.note === null ? '' : `: ${back.note}`}`
}

/** `Tue 24 Nov, 06:10`, or the day alone. */
export function whenWords(time: string): string {
  return time.length > 10 ? `${dayName(time)}, ${clockOf(time)}` : dayName(time)
}

/** What is wrong with what was typed, at its field; said without the service, because there may be no link. */
export const wrongWords = {
  head: { what: 'A whole number of head; 0 where nothing was taken.', remedy: '' },
  held: { what: 'A whole number of head, or nothing.', remedy: '' },
  method: { what: 'Name the method.', remedy: '' },
  day: { what: 'A day that has come already.', remedy: '' },
  at: { what: 'A time that has come already.', remedy: '' },
  heldSince: { what: 'A time before the one above.', remedy: '' },
  amount: { what: 'A number over 0, or nothing.', remedy: '' },
  unit: { what: 'Say in what it is counted: trap nights, hours.', remedy: '' },
} as const
