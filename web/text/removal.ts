/** How many there were before a program, in words: an estimate with its range, or why there is none. */
import type { RemovalAnswer } from '../../services/http/did-it-work-shapes.ts'
import type { Species } from '../../services/words.ts'
import { head as headOf, plural, speciesMany } from './counts.ts'
import { told } from './pressure.ts'

type Rounds = Extract<RemovalAnswer, { kind: 'rounds' }>
type Equal = Extract<Rounds['equal'], { kind: 'estimate' }>
type Unequal = Extract<Rounds['unequal'], { kind: 'estimate' }>
type Refused = Extract<Rounds['equal'], { kind: 'refused' }>['why']
type NoRounds = Extract<RemovalAnswer, { kind: 'none' }>['why']

const NO_ROUNDS: Readonly<Record<NoRounds, (many: string) => string>> = {
  'nothing taken': (many) => `No ${many} are entered as taken, so there is no catch to tell from.`,
  'several methods': () =>
    'Taken by several methods: each has its own chance of catching, and no estimate holds for all of them together.',
  'effort not given': () =>
    'Some entries have no effort. Write it with the outcomes, or say below that each round took the same.',
  'efforts in several units': () =>
    'Efforts are written in several units. Put them right in the outcomes, or say below that each round took the same.',
}
export const noRoundsWords = (why: NoRounds, species: Species) => NO_ROUNDS[why](speciesMany(species))

const REFUSED: Readonly<Record<Refused, string>> = {
  'too few rounds':
    'there are too few rounds: three of equal effort, or four of unequal effort, are the least.',
  'too few head': 'fewer than ten head were taken.',
  'effort differs': 'the rounds took unlike effort.',
  'animals came back': 'some were let go again, so what was left did not get fewer by the whole catch.',
  'catch not falling': 'the catch does not surely fall: there may be about as many left as before.',
  'chance of being caught changed':
    'the catch does not fall evenly: the chance of being caught seems to have changed.',
}

/** `Not told by rounds of equal effort: ...` */
export const refusedWords = (why: Refused, method: 'equal' | 'unequal') =>
  `Not told ${method === 'equal' ? 'from the catch of rounds of equal effort' : 'from the catch for each effort'}: ${REFUSED[why]}`

/** `About 31 camels before the program (24 to 60); 22 were taken, so about 9 were left.` */
export function estimateWords({ head, low, high, caught }: Equal | Unequal, species: Species): string {
  const whole = (value: number) => Math.round(value)
  const range =
    high === null
      ? `at least ${whole(low)}; nobody can say how many at most`
      : `${whole(low)} to ${whole(high)}`
  const left = Math.max(0, whole(head) - caught)
  return `About ${headOf(species, whole(head))} before the program (${range}); ${caught} were taken, so about ${left} ${left === 1 ? 'was' : 'were'} left.`
}

/** What an estimate of rounds of equal effort rests on. */
export function equalLine({ chance, fitP, byZippin, standardError }: Equal): string {
  return `From the fall of the catch (Carle and Strub 1978): each had a chance of ${told(chance * 100)} in 100 of being taken in a round, standard error ${told(standardError)}; Zippin’s equation (1958) says ${told(byZippin)}. Catches so uneven would come ${told(fitP * 100)} times in 100 with a steady chance.`
}

export function unequalLine({ perEffort }: Unequal, unit: string | null): string {
  return `From the catch for each effort (Leslie and Davis 1939): one of the ${unit ?? 'rounds'} took ${told(perEffort * 100)} in 100 of those that were left.`
}

/** `3 more rounds like these would take 80 in 100 of them; 7 at the high end.` */
export function moreRoundsWords({ moreRounds: { expected, atHigh } }: Equal, share: number): string {
  if (expected > 0) {
    const high = atHigh === null ? 'at the high end nobody can say' : `${atHigh} at the high end`
    return `${plural(expected, 'more round')} like these would take ${share} in 100 of them; ${high}.`
  }
  const already = `${share} in 100 of them are taken already`
  if (atHigh === 0) return `${already}, at the high end too.`
  return atHigh === null
    ? `${already}; at the high end nobody can say.`
    : `${already}; at the high end it would take ${plural(atHigh, 'more round')} like these.`
}
