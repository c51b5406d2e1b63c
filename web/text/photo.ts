/** Words of the photo page and of lists of photos. */
import type { Check, Still } from '../../services/http/shapes.ts'
import { checkWordsOnScreen, withOthers } from './check.ts'
import { list, one, tallyWords } from './counts.ts'
import { dayAndClock } from './times.ts'

export const photoWords = {
  title: 'Photo',
  list: 'Photos',
  listUnreadable: 'Files that could not be read',
  listDoubtful: 'Photos with a clock in doubt',
  nights: (from: string, to: string) => `noon ${from} to noon ${to}`,
  oneVisit: 'one visit',
  steps: 'Other photos of the list',
  about: 'About this photo',
  notCounted: 'not counted',
  sureness: (score: number) => `${Math.round(score * 100)} % sure`,
  previous: 'Previous photo',
  next: 'Next photo',
  zoomIn: 'Zoom in',
  zoomOut: 'Zoom out',
  full: 'Open the photo as it came',
  cameraCount: 'Camera count',
  stands: 'What stands',
  agree: 'Agree',
  correct: 'Correct the count',
  save: 'Save this count',
  cancel: 'Cancel',
  nothing: 'Nothing there',
  withdraw: 'Take my word back',
  fewer: (kind: string) => `One ${one(kind)} fewer`,
  more: (kind: string) => `One ${one(kind)} more`,
  taken: 'Taken',
  takenFrom: 'Time comes from',
  received: 'Came in',
  camera: 'Camera',
  point: 'Point',
  night: 'Night',
  size: 'Size',
  boxes: 'What the boxes are',
  noBoxes: 'No animals found in this photo.',
  draw: 'Draw a box',
  drawHint: 'Drag from corner to corner over an animal that the camera missed',
  drawAs: 'Draw it as one of the',
  byHand: 'drawn by hand',
  removeBox: 'Take this box away',
  words: 'Words on this photo',
  noWords: 'Nobody has looked at it yet.',
  unreadable: 'This file could not be read as a photo',
  waiting: 'Still being read; the count comes in a moment.',
  clockDoubt: 'Clock in doubt',
  clockDoubtNote: 'The photo is kept and shown, but it is in no visit: its time can’t be trusted.',
  empty: {
    what: 'No photos here.',
    remedy: 'Take a filter away, choose another night, or check that the camera is sending.',
  },
} as const

export const timeSources: Readonly<Record<Still['takenFrom'], string>> = {
  'exif with offset': 'the photo’s own date, with its zone',
  exif: 'the photo’s own date, in the camera’s zone',
  sender: 'whoever sent it',
  'file name': 'the file’s name',
  'mail date': 'the mail’s date',
  'file time': 'the file’s date',
  arrival: 'when it came in: it carries no date',
}

/** One line under a small photo. */
export function stillWords(still: Still): string {
  if (still.state === 'unreadable') return 'Could not be read'
  if (still.state === 'received') return 'Being read'
  return tallyWords(still.tally)
}

/** What a person's word on a photo was. */
export function checkWords(check: Check): string {
  const who = `${check.who}, ${dayAndClock(check.at)}`
  if (check.verdict === 'withdrawn') return `Word taken back (${who})`
  const marks = check.marks.map((mark) => checkWordsOnScreen.marks[mark].toLowerCase())
  if (check.verdict === 'marked') {
    return `${marks.length === 0 ? 'Marks taken off' : `Marked: ${list(marks)}`} (${who})`
  }
  const count =
    check.verdict === 'agreed'
      ? 'Agreed with the camera count'
      : `Corrected to ${withOthers(check.counts ?? {}, check.others)}`
  return `${[count, ...marks].join(', ')} (${who})`
}

/** Alternative text of a photo. */
export function altWords(still: Still): string {
  return `${still.pointName}, ${dayAndClock(still.takenAt)}: ${stillWords(still)}`
}
