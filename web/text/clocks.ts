/** Words of times put right. */
import type { Placing, Shift, ShiftPreview } from '../../services/http/clock-shapes.ts'
import { plural } from './counts.ts'
import { clockOf, dayAndClock, dayName } from './times.ts'

export const clockWords = {
  fold: 'The time is wrong',
  foldDoubt: 'Say when it was really taken',
  date: 'Really taken on',
  clock: 'At',
  clockHint: 'By the station’s clock.',
  which: 'Move with it',
  runs: {
    photo: 'This photo only',
    'in doubt': 'All photos round it whose clock is in doubt',
    'from here': 'This photo and those after it',
    'up to here': 'This photo and those before it',
    'at this point': 'All photos of this camera at this point',
    all: 'All photos of this camera',
  },
  note: 'Note',
  noteHint: 'What was wrong, for whoever looks later.',
  button: 'Put the time right',
  buttonRight: 'The time is right as it is',
  before: 'Now',
  after: 'Then',
  thisPhoto: 'This photo',
  first: 'First',
  last: 'Last',
  later:
    'Photos still to come keep the camera’s own time: put its clock right, or set its clock error in Set-up.',
  undo: 'Undo',
  undone: 'Undone.',
  log: 'Times put right',
  came: (said: string) => `It came with ${fullTime(said)}.`,
  twice: (tookEarlier: boolean) =>
    `Clocks were put back that night, so the camera’s clock showed this time twice. The ${tookEarlier ? 'earlier' : 'later'} is taken.`,
  takeOther: (isLater: boolean) =>
    isLater ? 'It was the later of the two' : 'It was the earlier of the two',
  typeTime: 'Give a day and a time to see what would change.',
} as const

const MINUTE = 60
const HOUR = 60 * MINUTE
const DAY = 24 * HOUR

/** `Fri 1 Jan 2021, 00:12`: a wrong clock is often wrong by years. */
export function fullTime(time: string): string {
  return `${dayName(time)} ${time.slice(0, 4)}, ${clockOf(time)}`
}

/** `1 day 2 h later`, `20 min earlier`, `at the same time`. */
export function shiftLength(seconds: number): string {
  if (seconds === 0) return 'at the same time'
  const all = Math.abs(Math.round(seconds))
  const parts = [
    [Math.floor(all / DAY), (count: number) => plural(count, 'day')] as const,
    [Math.floor((all % DAY) / HOUR), (count: number) => `${count} h`] as const,
    [Math.floor((all % HOUR) / MINUTE), (count: number) => `${count} min`] as const,
    [all % MINUTE, (count: number) => `${count} s`] as const,
  ].flatMap(([count, words]) => (count === 0 ? [] : [words(count)]))
  return `${parts.slice(0, 3).join(' ')} ${seconds > 0 ? 'later' : 'earlier'}`
}

/** `142 photos of Ironbark Dam, each 1 day earlier.` */
export function previewWords({ photos, cameraName, seconds, inDoubt, inDoubtAfter }: ShiftPreview): string {
  const moved =
    seconds === 0
      ? `${plural(photos, 'photo')} of ${cameraName}: the time is said to be right.`
      : `${plural(photos, 'photo')} of ${cameraName}, each ${shiftLength(seconds)}.`
  if (inDoubt === inDoubtAfter) return moved
  return `${moved} Clock in doubt on ${inDoubt} of them now, on ${inDoubtAfter} then.`
}

/** `Time put right, 1 day earlier, with 141 others (station, Fri 27 Nov, 16:40)` */
export function shiftWords({ seconds, photos, who, at, note }: Shift): string {
  const others = photos > 1 ? `, with ${plural(photos - 1, 'other')}` : ''
  const what = seconds === 0 ? 'Time said to be right' : `Time put right, ${shiftLength(seconds)}`
  return `${what}${others} (${who}, ${dayAndClock(at)})${note === null || note === '' ? '' : `: ${note}`}`
}

export function placingWords({ done, total }: Placing): string {
  return `Putting photos in their places: ${done.toLocaleString('en-AU')} of ${total.toLocaleString('en-AU')}`
}
