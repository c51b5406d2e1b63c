/** Trips that points ask for: what may be the trouble, what can be said of a job, and whether it is open by what was said. */

export const TROUBLES = ['trough leak', 'float', 'camera down', 'other'] as const
export type Trouble = (typeof TROUBLES)[number]

/** After `asked for`, with which each begins. */
export const JOB_WORDS = ['handed on', 'note', 'done', 'open again', 'not needed'] as const
export type JobWord = 'asked for' | (typeof JOB_WORDS)[number]

const OPENS: readonly JobWord[] = ['asked for', 'open again']
const ENDS: readonly JobWord[] = ['done', 'not needed']

/** Whether a job is open once these words were said of it, in their order. */
export function isOpen(words: readonly JobWord[]): boolean {
  const last = words.findLast((word) => OPENS.includes(word) || ENDS.includes(word))
  return last !== undefined && OPENS.includes(last)
}
