/** Words of Photos to check. */
import type { CheckCard } from '../../services/http/shapes.ts'
import { plural, tallyWords } from './counts.ts'
import { clockSpan } from './times.ts'

export const checkWordsOnScreen = {
  title: 'Photos to check',
  agree: 'Agree',
  fewer: (species: string) => `One ${species} fewer`,
  more: (species: string) => `One ${species} more`,
  counting: 'Counting',
  openPhoto: (clock: string) => `Open the photo of ${clock}`,
  ofPhotos: (at: number, of: number) => `photo ${at} of ${of}`,
  species: 'Species',
  nothing: 'Nothing there',
  undo: 'Undo',
  isA: 'These are',
  keep: 'Keep as it is',
  keys: 'Keys: A agree, − one fewer, + one more, S species, N nothing there, U undo, B boxes, J and K to move.',
  why: { feral: 'Feral', unsure: 'Unsure: have a look', plain: 'Other visit' },
  seen: 'Looked at',
  allDone: 'All looked at. Nothing waits.',
  none: {
    what: 'Nothing to check this night.',
    remedy:
      'Feral animals and photos the camera count is unsure of will wait here. Earlier nights may hold some.',
  },
  earlier: 'Earlier night',
  later: 'Later night',
  undone: 'Undone.',
  nothingToUndo: 'Nothing to undo.',
  sendingFailed: (waiting: number) =>
    `${plural(waiting, 'word')} not sent yet. They are kept while this page stays open, and sent again by themselves.`,
  refused: (why: string) => `A word was refused and taken off the page: ${why}`,
  sendNow: 'Send now',
} as const

/** `3 camels, 21:40 to 22:15, Kite Bore` */
export function cardSentence(card: Pick<CheckCard, 'peaks' | 'startedAt' | 'endedAt' | 'pointName'>): string {
  const what = tallyWords(card.peaks)
  return `${what.slice(0, 1).toUpperCase()}${what.slice(1)}, ${clockSpan(card.startedAt, card.endedAt)}, ${card.pointName}`
}

/** `12 of 34 done` */
export function doneWords(done: number, of: number): string {
  return `${done} of ${of} done`
}
