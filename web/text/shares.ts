/** Shares, their limits and corrected counts in words: what was seen, and what may still be so. */
import type { CorrectedAnswer, ToldShareAnswer } from '../../services/http/evidence-shapes.ts'
import { plural } from './counts.ts'

/** Under this a share is told to a tenth: 0.4 % is not nothing. */
const SMALL_PERCENT = 10

/** `90 %`, `6.8 %` */
export function percent(share: number): string {
  const value = share * 100
  const shown = value > 0 && value < SMALL_PERCENT ? value.toFixed(1) : value.toFixed(0)
  return `${shown.replace(/\.0$/, '')} %`
}

/** A limit is told to a tenth, so that 16.8 % does not look like a guess. */
function limit(share: number): string {
  const value = share * 100
  return (value === 0 || value === 100 ? value.toFixed(0) : value.toFixed(1)).replace(/\.0$/, '')
}

/** `78.2 to 96.7 %` */
export function range({ low, high }: { readonly low: number; readonly high: number }): string {
  return `${limit(low)} to ${limit(high)} %`
}

/** `20 looks`, `20 looks and 14 looked at before` */
export function looksWords({ drawn, before }: { readonly drawn: number; readonly before: number }): string {
  const looks = plural(drawn, 'look')
  return before === 0 ? looks : `${looks} and ${before} looked at before`
}

/** What a share says, and what may still be so. */
export function shareWords(told: ToldShareAnswer): { readonly main: string; readonly small: string } {
  const from = looksWords(told)
  if (told.kind !== 'said') {
    const looked = told.drawn + told.before
    const soFar = looked === 0 ? '' : `So far ${told.hits} of ${from}; `
    const more = `${plural(told.more, 'more look')} would do.`
    return { main: 'Not enough checked to say', small: `${soFar}${more}` }
  }
  if (told.share === 0) return { main: `None in ${from}`, small: `That still allows ${limit(told.high)} %.` }
  return { main: percent(told.share), small: `${range(told)}, from ${from}` }
}

/** A corrected count to whole numbers. */
export function correctedWords(told: CorrectedAnswer): { readonly main: string; readonly small: string } {
  const whole = (value: number) => Math.round(value).toLocaleString('en-AU')
  switch (told.kind) {
    case 'corrected':
      return { main: whole(told.total), small: `${whole(told.low)} to ${whole(told.high)}` }
    case 'no difference found':
      return {
        main: whole(told.total),
        small: `No difference in looks that stand for others; ${told.looksThatMayDiffer} of those may still differ.`,
      }
    case 'not enough checked to say':
      return { main: 'Not enough checked to say', small: `${plural(told.more, 'more look')} would do.` }
  }
}
