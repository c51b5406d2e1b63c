/** Words of putting in a camera's card. */
import { plural } from './counts.ts'
import { clockOf, dayName } from './times.ts'

export const cardWords = {
  title: 'Put in a card',
  back: 'Set-up',
  hint: 'The photos on a camera’s card, or in any folder of this computer or phone. Each is taken once, however often it is put in.',
  noCameras: {
    what: 'There is no camera yet that a card could come from.',
    remedy: 'Add the camera in Set-up first.',
    action: 'Set-up',
  },
  camera: 'The card of',
  where: 'Where its photos lie',
  folder: 'Choose the folder',
  photos: 'Choose single photos',
  drop: 'Or drop the folder here.',
  looking: 'Looking at what is on it',
  nothing: {
    what: 'There is no photo in it.',
    remedy: 'Choose the folder that the photos lie in; on many cards it is called DCIM.',
  },
  stop: 'Stop',
  goOn: 'Go on',
  keepOpen: 'Keep this page open until it is done. If it is closed, choose the same folder again later.',
  resends:
    'This page is open on plain http, where a browser can’t work out beforehand what is in already. If the page is closed, everything is sent again; nothing is taken twice.',
  done: 'The card is in.',
  stopped: 'Stopped.',
  another: 'Put in another card',
  seePhotos: 'See its photos',
  seeUnreadable: 'Those that could not be read',
  seeDoubtful: 'Those with a clock in doubt',
  facts: {
    fresh: 'New',
    known: 'In already',
    unreadable: 'Could not be read',
    doubtful: 'Clock in doubt',
    failed: 'Not taken',
    aside: 'Left aside: no photos',
    span: 'Taken',
  },
  failedTitle: 'Not taken',
  asideTitle: 'Left aside, because they are no photos',
  tryFailed: 'Try these again',
  times: 'When the camera stood there',
  timesHint:
    'From the first and the last photo of the card. Nights before it was put up and after it was taken down are not watched.',
  timesTaken: 'Written down. It can be changed in Set-up, Cameras.',
} as const

/** `120 of 400: 80 new, 40 in already` */
export function progressLine(progress: {
  readonly done: number
  readonly total: number
  readonly fresh: number
  readonly known: number
}): string {
  const { done, total, fresh, known } = progress
  const told = [`${fresh.toLocaleString('en-AU')} new`]
  if (known > 0) told.push(`${known.toLocaleString('en-AU')} in already`)
  return `${done.toLocaleString('en-AU')} of ${plural(total, 'photo')}: ${told.join(', ')}`
}

export function unfinishedLine(left: {
  readonly camera: string
  readonly folder: string
  readonly done: number
  readonly total: number
}): string {
  return `${left.done.toLocaleString('en-AU')} of ${plural(left.total, 'photo')} of “${left.folder}” for ${left.camera} were in when the page was closed. Choose the same folder to go on.`
}

/** `Tue 3 Mar 2026, 00:15`: a card may be of another year. */
export function dayYearClock(time: string): string {
  return `${dayName(time)} ${time.slice(0, 4)}, ${clockOf(time)}`
}

export const putUpButton = (from: string, point: string) => `Put up at ${point} on ${dayYearClock(from)}`
export const takenDownButton = (from: string, to: string, point: string) =>
  `It was taken down: at ${point} from ${dayYearClock(from)} to ${dayYearClock(to)}`
