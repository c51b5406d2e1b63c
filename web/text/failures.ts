/** What is said when the service cannot be reached, answers oddly, or refuses what stands in a field. */
import type { Failure } from '../api/ask.ts'

export const failureWords = {
  noAnswer: {
    what: 'Hooftally does not answer.',
    remedy: 'See that the machine that runs it is on and that this phone is on the same network.',
  },
  odd: {
    what: 'Something went wrong in this page.',
    remedy: 'Load the page again. If it stays, look at Set-up, Health.',
  },
  status: (status: number) => ({
    what: `Hooftally answered with an error (${status}).`,
    remedy: 'Try again. If it stays, look at Set-up, Health.',
  }),
  tryAgain: 'Try again',
  correct: 'Correct it and save again.',
  stale: 'This is from earlier; the last try failed.',
} as const

/** How the service's schemas say it, and how it is said to a person; the rest is said for people already. */
const PLAINER: readonly (readonly [RegExp, string])[] = [
  [/^Too big: expected number to be <=([\d.,-]+)$/, 'At most $1.'],
  [/^Too small: expected number to be >=([\d.,-]+)$/, 'At least $1.'],
  [/^Too small: expected number to be >([\d.,-]+)$/, 'More than $1.'],
  [/^Invalid input: expected int, received number$/, 'A whole number, without decimals.'],
  [/^Invalid input: expected number, received (string|NaN)$/, 'A number.'],
  [/^Too small: expected string to have >=1 characters$/, 'Something has to stand here.'],
  [/^Too big: expected string to have <=(\d+) characters$/, 'At most $1 letters.'],
]

/** A refusal as it is said beside its own field: without the field's name for scripts, and without the page for them. */
export function fieldWords({ what, remedy, field }: Failure): string {
  const bare = field !== null && what.startsWith(`${field}: `) ? what.slice(field.length + 2) : what
  const said = bare.replace(/\.$/, '')
  const plainer = PLAINER.find(([pattern]) => pattern.test(said))
  const sentence = plainer === undefined ? bare : said.replace(plainer[0], plainer[1])
  const todo = remedy.includes('docs/api.md') ? failureWords.correct : remedy
  return `${sentence.slice(0, 1).toUpperCase()}${sentence.slice(1)} ${todo}`
}
