/** Head as a range in words: the low end down, the high end up. */

/** `6 to 10 head`; small numbers to a tenth, the high end never rounded down. */
export function headRange({ low, high }: { readonly low: number; readonly high: number }): string {
  const [from, to] = [down(low), up(high)]
  return from === to ? `${to} head` : `${from} to ${to} head`
}

/** `8 head`, `0.4 head`. */
export const headNumber = (head: number): string => `${near(head)} head`

const SMALL = 3
const down = (head: number) => (head < SMALL ? Math.floor(head * 10) / 10 : Math.floor(head))
const up = (head: number) => (head < SMALL ? Math.ceil(head * 10) / 10 : Math.ceil(head))
/** To a whole head, small numbers to a tenth. */
export const near = (head: number) => (head < SMALL ? Math.round(head * 10) / 10 : Math.round(head))
