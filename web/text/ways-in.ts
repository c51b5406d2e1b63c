/** Words of how a camera's photos come in. */
import type { Battery } from '../../services/http/battery-shapes.ts'
import type { CameraSource, Tried } from '../../services/http/source-shapes.ts'
import { plural } from './counts.ts'
import { age, dayName } from './times.ts'
import type { Fact } from './water-run.ts'

export const waysInWords = {
  open: 'How photos come in',
  openOf: (name: string) => `How photos of ${name} come in`,
  title: (name: string) => `How photos of ${name} come in`,
  close: 'Close',
  kinds: {
    'drop folder': 'From a folder on this computer',
    snapshot: 'Fetched from its address',
  },
  none: 'Nothing is fetched for this camera: it sends its photos itself, or its card is put in.',
  push: {
    title: 'It sends them itself',
    hint: 'With its key, in either of two ways. The key is shown when it is made; New key, under Change, makes another.',
    header: 'To this address, with the key in a header X-Camera-Key:',
    link: 'Or, for a sender that can only call an address, with the key in place of KEY:',
    life: 'The daily sign of life, with the charge of its battery:',
  },
  add: {
    'drop folder': 'Add a folder on this computer',
    snapshot: 'Add a photo fetched from an address',
  },
  try: 'Try it now',
  trying: 'Trying …',
  tryOf: (kind: string) => `Try it now: ${kind}`,
  change: 'Change',
  pause: 'Pause',
  goOn: 'Go on',
  remove: 'Take away',
  removeWarns: 'Nothing more comes in this way; photos that came stay. Take it away?',
  removeYes: 'Yes, take it away',
  save: 'Save',
  asideTitle: (count: number) => `${plural(count, 'file')} set aside`,
  gotPhoto: 'This photo came:',
  knownPhoto: 'This photo had come before:',
  noPhoto: 'It went well; no photo came.',
  folder: {
    folder: 'Folder',
    folderHint: 'Within what the service may read (--drop-root where it is started).',
    afterwards: 'What becomes of a file once its photo is safe',
    every: 'Look every (seconds)',
    quiet: 'Take a file when unchanged for (seconds)',
    patience: 'Set aside what is no photo after (minutes)',
  },
  snapshot: {
    address: 'Address of one photo',
    addressHint: 'As the camera’s manual gives it, such as http://192.168.1.20/snapshot.jpg',
    user: 'Name',
    userHint: 'Empty where the camera asks for none.',
    password: 'Password',
    passwordKept: 'One is kept; empty leaves it as it is.',
    certificate: 'Certificate (SHA-256)',
    certificateHint: 'Only for https with the camera’s own certificate. Try it now tells the one it met.',
    every: 'Every (minutes)',
    night: 'At night every (minutes)',
    nightHint: 'Empty: as by day.',
    onlyChanged: 'Keep a photo only when something changed',
    least: 'Something changed from (% of the picture)',
    keepEvery: 'Keep one at least every (minutes)',
  },
} as const

export const AFTERWARDS_CHOICES = [
  { value: 'move', words: 'Move it into a folder “taken”' },
  { value: 'remove', words: 'Delete it' },
  { value: 'leave', words: 'Leave it where it is' },
] as const

/** What a source is doing, as one line. */
export function sourceFact(source: CameraSource, now: string): Fact {
  if (!source.isOn) return { tone: 'plain', words: 'Paused' }
  if (source.lastTryAt === null) return { tone: 'unknown', words: 'Not looked at yet' }
  if (source.lastReason === null)
    return { tone: 'well', words: `Well, looked at ${age(source.lastTryAt, now)}` }
  if (source.failures === 0) return { tone: 'unknown', words: `Waits: ${source.lastReason}` }
  const since = source.lastOkAt === null ? 'has not gone well yet' : `went well ${age(source.lastOkAt, now)}`
  return { tone: 'look', words: `${source.lastReason} It ${since}.` }
}

export function triedFact({ outcome, words, photos }: Tried): Fact {
  if (words !== null) return { tone: outcome === 'well' ? 'plain' : 'look', words }
  const [photo] = photos
  if (photo === undefined) return { tone: 'well', words: waysInWords.noPhoto }
  return { tone: 'well', words: photo.known ? waysInWords.knownPhoto : waysInWords.gotPhoto }
}

/** The battery of a camera in one line; null where it never told any charge. */
export function batteryLine(battery: Battery | undefined): Fact | null {
  if (battery === undefined) return null
  const told = `Battery ${Math.round(battery.percent)} % on ${dayName(battery.on)}`
  if (battery.isFlat) return { tone: 'alarm', words: `${told}: flat` }
  if (battery.flat === null) return { tone: 'plain', words: `${told}. ${battery.because ?? ''}`.trim() }
  const { on, soonest, latest, days } = battery.flat
  const range =
    latest === null ? `${dayName(soonest)} at the soonest` : `${dayName(soonest)} to ${dayName(latest)}`
  return {
    tone: 'look',
    words: `${told}, flat about ${dayName(on)} (${range}; from ${plural(days, 'day')} of readings)`,
  }
}
