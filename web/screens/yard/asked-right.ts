/** An entry that another screen sends here to be put right: handed over once. */
import type { Listed } from './entry-list.tsx'

let asked: Listed | null = null

export function askToPutRight(one: Listed): void {
  asked = one
}

export function takeAskedRight(): Listed | null {
  const one = asked
  asked = null
  return one
}
