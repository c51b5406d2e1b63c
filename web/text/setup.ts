/** Words of Set-up. */
import type { Health } from '../../services/http/shapes.ts'
import { plural } from './counts.ts'

export const setupWords = {
  title: 'Set-up',
  firstTitle: 'Set up your station',
  firstHint: 'First the station itself. Points and cameras come next; all of it can be changed later.',
  parts: {
    station: 'Station',
    points: 'Points',
    cameras: 'Cameras',
    tracks: 'Speed and distances',
    mail: 'Photos by mail',
    species: 'Species',
    ratings: 'What animals drink and eat',
    traps: 'Set traps',
    howRight: 'How right the count is',
    ownAnimals: 'This station’s own animals',
    again: 'Look at old photos again',
    pastCounts: 'Past counts',
    keeping: 'Keeping photos',
    limits: 'How much is taken',
    machines: 'Machines that look at photos',
    health: 'Health',
  },
  groups: {
    waters: 'At the waters',
    counting: 'The station and its counting',
    photos: 'Photos already in',
    service: 'The service',
  },
  /** What is inside a part that is folded, for whoever wonders whether to open it. */
  folded: {
    tracks: 'Kilometres between points and speed on tracks, for the round over a target list',
    mail: 'For cameras that send their photos to a mailbox',
    species: 'Which are stock and which feral, and how sure the camera count must be',
    traps: 'How soon one that nobody visits is an alarm',
    ratings: 'Litres a day and dry sheep equivalents, with where they were found',
    ownAnimals: 'What Hooftally has learnt from checks here, and kinds beside the five: sheep, dogs',
    station: 'Name, time zone, homestead, when a visit ends, when cattle are missed',
    pastCounts: 'What was written down in a notebook before there were cameras',
    keeping: 'Room on the disk: what becomes of photos with nothing on them',
    limits: 'The largest photo, and how many a camera may send',
    again: 'After Hooftally has learnt to count better, or when photos could not be read',
    machines: 'Only for stations that share the work among several computers',
  },
  contents: 'Parts of Set-up',
  howRight: {
    hint: 'Some photos are drawn by lot each week. What people say of them, without seeing what the camera count made of them, tells how right it is.',
    look: 'Blind look',
    page: 'How right the count is',
  },
  save: 'Save',
  saved: 'Saved.',
  cancel: 'Cancel',
  change: 'Change',
  degreesHint: 'Degrees, south and west with a minus: -28.4',
  place: {
    here: 'Use this phone’s place',
    hereFailed: 'This phone did not give its place; type the degrees.',
    finding: 'Finding this phone’s place',
  },
  station: {
    name: 'Station name',
    zone: 'Time zone',
    zoneHint: 'Type a few letters to search. Nights run from noon to noon in this zone.',
    lat: 'Homestead latitude',
    lon: 'Homestead longitude',
    gap: 'Minutes between visits',
    gapHint: 'Photos of one species further apart than this are two visits. 30 is usual.',
    away: 'Longest hours cattle may stay away',
    awayHint: 'A shorter time is learned for each point and season. None is longer than this.',
    saveFirst: 'Save the station',
  },
  points: {
    none: { what: 'No points yet.', remedy: 'Add the first below, or load them all from a file.' },
    add: 'Add a point',
    changeOne: (name: string) => `Change the point ${name}`,
    showAll: (count: number) => `Show all ${plural(count, 'point')}`,
    name: 'Name',
    kind: 'Kind',
    lat: 'Latitude',
    lon: 'Longitude',
    yard: 'Has a trap yard',
    runOrder: 'Place in the run',
    low: 'Low under (per cent)',
    dry: 'Dry under (per cent)',
    save: 'Save the point',
    file: 'Load points from a file',
    fileHint:
      'CSV with a head line (name, kind, lat, lon), or GeoJSON. Points of the same name are changed, not doubled.',
    fileButton: 'Choose a file',
    loaded: (added: number, changed: number) => `${plural(added, 'point')} added, ${changed} changed.`,
    wrongFile: {
      what: 'That is neither a .csv nor a .geojson file.',
      remedy: 'Save it as CSV or GeoJSON and choose it again.',
    },
  },
  cameras: {
    none: {
      what: 'No cameras yet.',
      remedy: 'Add one below: it gets a key, and with the key it can send photos.',
    },
    needPoint: { what: 'A camera stands at a point.', remedy: 'Add a point first.' },
    add: 'Add a camera',
    changeOne: (name: string) => `Change the camera ${name}`,
    card: 'Put in its card',
    cardOf: (name: string) => `Put in the card of ${name}`,
    showAll: (count: number) => `Show all ${plural(count, 'camera')}`,
    name: 'Name',
    point: 'Stands at',
    since: 'Put up since',
    sinceHint: 'Empty where that is not known. The clock of a photo from before that day is in doubt.',
    silence: 'Down after (hours)',
    silenceHint: 'This long without a word from it, and the camera counts as down.',
    heartbeats: 'Sends a daily sign of life',
    schedule: 'Minutes between photos',
    scheduleHint: 'Empty where it takes them by motion.',
    clock: 'Clock is behind by (seconds)',
    clockHint: 'Added to the camera’s time; minus when its clock is ahead.',
    zone: 'Clock’s time zone',
    zoneHint: 'Empty where it is the station’s.',
    closer: 'Look closer: this camera’s photos are large and animals are far away (slower)',
    save: 'Save the camera',
    newKey: 'New key',
    newKeyHint: 'When the key is lost, or somebody has it who should not:',
    newKeyWarns: 'The old key stops at once. Make a new key?',
    newKeyYes: 'Yes, make a new key',
    keyTitle: (name: string) => `Key of ${name}`,
    keyOnce: 'This key is shown once. Put it in the camera’s settings or the sender’s now.',
    copy: 'Copy the key',
    copyLine: 'Copy the line',
    copied: 'Copied.',
    copyFailed: 'This browser did not copy; mark the text and copy it by hand.',
    sendLine: 'To send a photo from any computer:',
    linkLine: 'For a camera that can only call an address, this one:',
    done: 'I have it',
    keyHint: (hint: string | null) => (hint === null ? 'No key yet' : `Key ends in ${hint}`),
  },
  species: {
    hint: 'Stock drink by right; visits of feral animals are flagged for a look. The two marks say how sure the camera count must be.',
    role: 'Whose',
    stock: 'Stock',
    feral: 'Feral',
    count: 'Counted from (% sure)',
    flag: 'Worth a look from (% sure)',
    marksHint: 'Higher counts fewer by mistake and misses more.',
    evidence: 'What other marks would catch and miss',
    wrongOrder: {
      what: 'This is above what it is counted from.',
      remedy: 'Set it at or below that.',
    },
    wrongMark: { what: 'That is no share of a hundred.', remedy: 'Give a number from 0 to 100.' },
    save: 'Save species',
  },
  health: {
    well: 'The service is well.',
    unwell: 'The service needs a look.',
    database: 'Database',
    disk: 'Disk',
    stills: 'Photos are kept',
    waiting: 'Still to be read',
    eye: 'Reading photos',
    keeper: 'For whoever looks after the computer',
    models: 'Models that count',
    version: 'Version of Hooftally',
  },
} as const

type Eye = NonNullable<Health['eye']>

const EYE: Readonly<Record<Eye['state'], string>> = {
  starting: 'Starting',
  ready: 'Ready',
  restarting: 'Starting again after a fault',
  stopped: 'Stopped: photos are kept and read once it runs again',
}

export function eyeWords({ eye, workers }: Pick<Health, 'eye' | 'workers'>): string {
  const machines = workers === null ? null : machinesAtWork(workers.atWork)
  if (eye === null) return machines ?? EYE.stopped
  return machines === null ? hereWords(eye) : `${hereWords(eye)}. ${machines}`
}

/** `No other machine is at work` is an alarm only where photos wait: health says so. */
function machinesAtWork(atWork: number): string {
  return atWork === 0 ? 'No machine that looks at photos is at work' : `${plural(atWork, 'machine')} at work`
}

function hereWords(eye: Eye): string {
  return eye.restarts === 0
    ? EYE[eye.state]
    : `${EYE[eye.state]}; started again ${plural(eye.restarts, 'time')}`
}

export function queueWords(queue: Health['queue']): string {
  if (!queue.ok)
    return 'The service that hands photos to the machines does not answer: photos are kept, and read once it is back'
  const { waiting, inHand, givenUp } = queue
  const words =
    waiting + inHand === 0
      ? 'No photo waits'
      : `${plural(waiting, 'photo')} waiting, ${inHand.toLocaleString('en-AU')} being read`
  return givenUp === 0 ? words : `${words}, ${givenUp.toLocaleString('en-AU')} given up`
}

const GIB = 1024 ** 3
const MIB = 1024 ** 2

/** `12.3 GB`, in the binary sizes that disks are told in. */
export function sizeWords(bytes: number): string {
  return bytes >= GIB ? `${(bytes / GIB).toFixed(1)} GB` : `${Math.round(bytes / MIB)} MB`
}

export function diskWords(disk: Health['disk']): string {
  const words = `${sizeWords(disk.freeBytes)} free, photos take ${sizeWords(disk.stillsBytes)}`
  if (disk.room === 'well') return words
  const held = `${sizeWords(disk.reserveBytes)} are held back`
  return disk.room === 'low'
    ? `${words}: running short, ${held}`
    : `${words}: full, ${held}, no photo is taken`
}
