/** Words of cameras: where they stood, how they are, why a night was not watched. */
import type { CameraState, CameraWatch, Trouble, WatchingAnswer } from '../../services/http/camera-shapes.ts'
import { plural } from './counts.ts'
import { sizeWords } from './setup.ts'
import { age, dayAndClock } from './times.ts'
import type { Fact } from './water-run.ts'

export const cameraTimesWords = {
  title: 'When it stood where',
  hint: 'Photos and watched time go to the point where the camera stood. Changed later, everything in between is worked out again.',
  time: (number: number) => `Time ${number}`,
  point: 'At',
  putUp: 'Put up on',
  putUpHint: 'Empty where that is not known.',
  takenDown: 'Taken down on',
  takenDownHint: 'Empty while it stands there.',
  at: 'At (clock time)',
  again: 'It was put up again',
  save: 'Save when it stood where',
  isDown: 'Taken down',
} as const

export const camerasWords = {
  title: 'Cameras',
  back: 'Set-up',
  open: 'How each camera is',
  hint: 'Those that ask for a look come first. A camera that speaks and can’t see is not counted as watching.',
  none: { what: 'No cameras yet.', remedy: 'Add one in Set-up.', action: 'Set-up' },
  lastWord: 'Last word',
  never: 'none yet',
  battery: 'Battery',
  card: 'Room on the card',
  notTold: 'not told',
  photosADay: 'Photos a day',
  unreadable: 'Could not be read',
  clock: 'Clock',
  clockWell: 'in no doubt',
  photos: 'Its photos',
  latest: (name: string) => `Latest photo of ${name}`,
  shows: 'The first photo that shows it',
  change: 'Change it in Set-up',
  fine: 'It is fine',
  setRight: 'It was set right',
  takeBack: 'Take my word back',
  earlier: 'Earlier',
  said: 'Saved.',
  rise: 'more than usual',
} as const

const STATES: Readonly<Record<CameraState, { readonly tone: Fact['tone']; readonly words: string }>> = {
  watching: { tone: 'well', words: 'Watching' },
  new: { tone: 'unknown', words: 'New, no photo yet' },
  down: { tone: 'alarm', words: 'Camera down' },
  'taken down': { tone: 'plain', words: 'Taken down' },
  'card full': { tone: 'alarm', words: 'Card full' },
  blind: { tone: 'alarm', words: 'Can’t see: dust, a web or sun on the lens' },
  knocked: { tone: 'alarm', words: 'Knocked: it looks elsewhere' },
  unreadable: { tone: 'alarm', words: 'Its photos can’t be read' },
}

const ORDER: readonly CameraState[] = [
  'down',
  'card full',
  'blind',
  'knocked',
  'unreadable',
  'new',
  'watching',
  'taken down',
]

/** `Camera down, 3 days ago` */
export function stateFact({ state, since }: CameraWatch, now: string): Fact {
  const { tone, words } = STATES[state]
  return {
    tone,
    words: since === null ? words : `${words}, since ${dayAndClock(since)} (${age(since, now)})`,
  }
}

/** Those that ask for a look first, then by name. */
export function inOrderOfTrouble(cameras: readonly CameraWatch[]): CameraWatch[] {
  const rank = (one: CameraWatch) =>
    ORDER.indexOf(one.state) * 2 - (one.state === 'watching' && asksForALook(one) ? 1 : 0)
  return cameras.toSorted((a, b) => rank(a) - rank(b) || a.camera.name.localeCompare(b.camera.name))
}

const asksForALook = ({ unreadable, clock }: CameraWatch) => unreadable.rise || clock.inDoubt > 0

/** `3 of 40 files in a week, more than usual` */
export function unreadableWords({ files, of, rise }: CameraWatch['unreadable']): string {
  if (files === 0) return 'none in a week'
  return `${files} of ${plural(of, 'file')} in a week${rise ? `, ${camerasWords.rise}` : ''}`
}

export function clockDoubtWords({ inDoubt, why }: CameraWatch['clock']): string {
  return inDoubt === 0 ? camerasWords.clockWell : `in doubt on ${plural(inDoubt, 'photo')}: ${why ?? ''}`
}

/** `72 %, 3 h ago` */
export function batteryWords(battery: CameraWatch['battery'], now: string): string {
  return battery === null ? camerasWords.notTold : `${Math.round(battery.percent)} %, ${age(battery.at, now)}`
}

export function cardWords(room: CameraWatch['cardRoom'], now: string): string {
  return room === null ? camerasWords.notTold : `${sizeWords(room.bytes)}, ${age(room.at, now)}`
}

/** `Knocked: it looks elsewhere, Tue 24 Nov, 08:00 to Wed 25 Nov, 07:10; said to be set right (station, ...)` */
export function troubleWords(trouble: Trouble): string {
  const from = dayAndClock(trouble.from)
  const span = trouble.to === null ? `since ${from}` : `${from} to ${dayAndClock(trouble.to)}`
  const said = trouble.words[0]
  const word = said === undefined ? '' : `; ${SAID[said.word]} (${said.who}, ${dayAndClock(said.at)})`
  return `${STATES[trouble.kind].words}, ${span}${word}`
}

const SAID = {
  fine: 'said to be fine',
  'set right': 'said to be set right',
  'taken back': 'word taken back',
} as const

const NOT_WATCHED: Readonly<Record<WatchingAnswer['nights'][number]['notWatched'][number]['why'], string>> = {
  'not up': 'not up here',
  down: 'camera down',
  'card full': 'card full',
  blind: 'lens blind',
  knocked: 'camera knocked',
  unreadable: 'photos unreadable',
  'not yet known': 'not known yet',
}

/** `Camera down: 14 h (Kite Bore)` for each reason, the longest first. */
export function notWatchedWords(reasons: WatchingAnswer['nights'][number]['notWatched']): string[] {
  return reasons.map(({ camera, why, hours }) => {
    const words = NOT_WATCHED[why]
    const length = hours >= 1 ? `${Math.round(hours)} h` : `${Math.round(hours * 60)} min`
    return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}: ${length} (${camera})`
  })
}

export const watchingWords = {
  fold: 'How this night was watched',
  correct: 'Watched, by your word (per cent)',
  correctHint: 'Where you know better than the camera: 0 for not at all, 100 for all of it.',
  note: 'Note',
  save: 'Save what was watched',
  undo: 'Take the word back',
  byHand: 'By a person’s word.',
  wrongShare: { what: 'That is no share of a hundred.', remedy: 'Give a number from 0 to 100.' },
  whole: 'No camera missed any of it.',
} as const

/** `60 % (station, Fri 27 Nov, 16:40): generator was off` */
export function effortWordWords({
  share,
  who,
  at,
  note,
}: WatchingAnswer['nights'][number]['words'][number]): string {
  const what = share === null ? 'Word taken back' : `${Math.round(share * 100)} %`
  return `${what} (${who}, ${dayAndClock(at)})${note === null ? '' : `: ${note}`}`
}
