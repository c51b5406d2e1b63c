/** Words of Photos to check. */
import type { CheckCard, Still } from '../../services/http/shapes.ts'
import type { Mark, Others, Species, Tally } from '../../services/words.ts'
import { list, one, plural, tallyWords } from './counts.ts'
import { clockOf, clockSpan } from './times.ts'

const MARK_WORDS: Readonly<Record<Mark, string>> = {
  ours: 'Ours',
  neighbour: 'A neighbour’s',
  branded: 'Branded or collared',
  young: 'Young at foot',
  injured: 'Injured or down',
  person: 'A person',
}

export const checkWordsOnScreen = {
  title: 'Photos to check',
  agree: 'Agree',
  fewer: (species: Species | null) => `One ${one(species)} fewer`.replace('  ', ' '),
  more: (species: Species | null) => `One ${one(species)} more`.replace('  ', ' '),
  counting: 'Counting',
  openPhoto: (clock: string) => `Open the photo of ${clock}`,
  ofPhotos: (at: number, of: number) => `photo ${at} of ${of}`,
  species: 'Species',
  nothing: 'Nothing there',
  undo: 'Undo',
  isA: 'These are',
  otherNote: 'Your own kinds are kept with the photo and teach the camera count; they are in no count.',
  keep: 'Keep as it is',
  moreToSay: 'More to say',
  marks: MARK_WORDS,
  marksOf: (photos: number) =>
    photos === 1 ? 'On this photo' : `On all ${plural(photos, 'photo')} of this visit`,
  marked: (mark: string, on: boolean) => `${mark}: ${on ? 'marked' : 'not marked any more'}.`,
  personNote: 'A photo with a person on it never leaves the station in an export. You still see it here.',
  keys: 'Keys: A agree, − one fewer, + one more, S species, N nothing there, M more to say, U undo, B boxes, J and K to move.',
  why: { feral: 'Feral', unsure: 'Unsure: have a look', plain: 'Other visit' },
  seen: 'Looked at',
  showing: (name: string) => `Showing: ${name.toLowerCase()}`,
  shown: {
    matters: { name: 'What matters first', what: 'Feral animals, then what the camera count is unsure of.' },
    teaches: {
      name: 'What teaches most first',
      what: 'The same photos, first those on which your word helps the camera count most.',
    },
    other: {
      name: 'Other visits of the night',
      what: 'Cattle and other stock that the camera count is sure of. Nobody needs to check these.',
    },
  },
  allDone: 'All looked at. Nothing waits.',
  allOtherDone: 'All other visits looked at.',
  none: {
    what: 'Nothing to check this night.',
    remedy:
      'Feral animals and photos the camera count is unsure of will wait here. Earlier nights may hold some.',
  },
  noOther: {
    what: 'No other visits this night.',
    remedy: 'Cattle and other stock that the camera count is sure of stand here.',
  },
  earlier: 'Earlier night',
  later: 'Later night',
  undone: 'Undone.',
  spokenOver: 'Somebody else has spoken of these photos since. Their word stays.',
  nothingToUndo: 'Nothing to undo.',
  waiting: (waiting: number) => `${plural(waiting, 'word')} not sent yet.`,
  waitingKept: 'They are kept on this device and go by themselves once the link is back.',
  waitingOpen: 'They are kept while this page stays open, and go by themselves once the link is back.',
  linkLine: (waiting: number) =>
    waiting === 0
      ? 'No link'
      : `No link: ${plural(waiting, 'word')} ${waiting === 1 ? 'waits' : 'wait'} here`,
  noLink: 'No link to the station.',
  noLinkNote: 'Go on with what is shown: your words wait here and go by themselves once the link is back.',
  refused: (why: string) => `A word was refused and taken off the page: ${why}`,
  sendNow: 'Send now',
} as const

/** `3 camels, 21:40 to 22:15, Kite Bore` */
export function cardSentence(card: Pick<CheckCard, 'peaks' | 'startedAt' | 'endedAt' | 'pointName'>): string {
  const what = tallyWords(card.peaks)
  return `${what.slice(0, 1).toUpperCase()}${what.slice(1)}, ${clockSpan(card.startedAt, card.endedAt)}, ${card.pointName}`
}

/** `21:40: 3 camels and 2 sheep` */
export function standsLine(still: {
  readonly takenAt: string
  readonly tally: Tally
  readonly word: { readonly others: Others | null } | null
}): string {
  return `${clockOf(still.takenAt)}: ${withOthers(still.tally, still.word?.others ?? null)}`
}

/** `2 camels and 3 sheep`: the count, and kinds of the station's own by their names. */
export function withOthers(tally: Tally, others: Others | null): string {
  const told = Object.entries(others ?? {}).map(([name, head]) => `${head} ${name}`)
  if (told.length === 0) return tallyWords(tally)
  return list(Object.keys(tally).length === 0 ? told : [tallyWords(tally), ...told])
}

/** Who looks when nobody said a name. */
const NOBODY_NAMED = 'station'

/** `Looked at`, or `Looked at by Ash` where names were given. */
export function lookedAtBy(stills: readonly Pick<Still, 'check'>[]): string {
  const names = [...new Set(stills.flatMap(({ check }) => (check === null ? [] : [check.who])))].filter(
    (who) => who !== NOBODY_NAMED,
  )
  return names.length === 0 ? checkWordsOnScreen.seen : `${checkWordsOnScreen.seen} by ${list(names)}`
}

/** `12 of 34 done` */
export function doneWords(done: number, of: number): string {
  return `${done} of ${of} done`
}
