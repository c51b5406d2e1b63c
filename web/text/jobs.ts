/** Words of jobs: trips that a photo or a point asks for. */
import type { Job } from '../../services/http/yard-shapes.ts'
import { JOB_WORDS, TROUBLES, type Trouble } from '../../services/tally/job-words.ts'
import type { YardEntry } from '../api/yard-entries.ts'
import { plural } from './counts.ts'
import { dayAndClock } from './times.ts'

const TROUBLE_NAMES: Readonly<Record<Trouble, string>> = {
  'trough leak': 'Trough leaking',
  float: 'Float',
  'camera down': 'Camera down',
  other: 'Something else',
}
export const troubleChoices = TROUBLES.map((value) => ({ value, words: TROUBLE_NAMES[value] }))

export const jobWords = {
  needsTrip: 'Needs a trip',
  trouble: 'What is wrong',
  note: 'Note',
  noteNeeded: 'Say what is wrong.',
  person: 'Whose job',
  personHint: 'A name, or empty for whoever goes next.',
  save: 'Put it on the list',
  cancel: 'Leave it',
  saved: 'On the Water run’s list.',
  jobsHead: (count: number) => plural(count, 'trip needed', 'trips needed'),
  photo: 'Photo',
  done: 'Done',
  doneBy: 'Done by',
  confirmDone: 'Yes, done',
  handOn: 'Hand on',
  handOnTo: 'To whom',
  handOnSave: 'Hand it on',
  notNeeded: 'Not needed',
  openAgain: 'Not done after all',
  more: 'Hand on, not needed, history',
  share: 'Share',
  copy: 'Copy as text',
  copied: 'Copied.',
  notCopied: 'This browser does not let a page copy. Mark the text below and copy it by hand.',
  mail: 'Mail',
  waits: 'waits on this phone',
  nobody: 'nobody yet',
  history: 'What was said',
  failed: 'The list of trips could not be loaded.',
} as const

/** `Trough leaking at Kite Bore` */
export function jobTitle(job: Pick<Job, 'trouble' | 'pointName' | 'note'>): string {
  const what = job.trouble === 'other' ? (job.note ?? TROUBLE_NAMES.other) : TROUBLE_NAMES[job.trouble]
  return `${what} at ${job.pointName}`
}

/** `For Robin. Asked for by Ash, Tue 24 Nov, 06:10.` */
export function jobLine(job: Job): string {
  const note = job.note === null || job.trouble === 'other' ? '' : ` ${sentence(job.note)}`
  return `For ${job.person ?? jobWords.nobody}. Asked for by ${job.askedBy}, ${dayAndClock(job.askedAt)}.${note}`
}

const sentence = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`)

/** `Handed on to Casey by Robin, Tue 24 Nov, 06:10: needs the welder` */
export function jobWordLine({ word, who, at, person, note }: Job['words'][number]): string {
  const name = word.slice(0, 1).toUpperCase() + word.slice(1)
  const to = person !== null && word === 'handed on' ? ` to ${person}` : ''
  const whose = person !== null && word === 'asked for' ? `, for ${person}` : ''
  return `${name}${to} by ${who}, ${dayAndClock(at)}${whose}${note === null ? '' : `: ${note}`}`
}

/** A job as text for a message: what, where, whose, and where its photo is. */
export function jobText(job: Job, address: string): string {
  const photo =
    job.photo === null
      ? []
      : [`Photo of ${dayAndClock(job.photo.takenAt)}: ${address}/photos/${job.photo.stillId}`]
  return [jobTitle(job), jobLine(job), ...photo].join('\n')
}

/** RFC 6068: a mail that is begun, to nobody yet. */
export function jobMail(job: Job, address: string): string {
  const query = new URLSearchParams({ subject: jobTitle(job), body: jobText(job, address) })
  // A mail program takes a plus for a plus.
  return `mailto:?${query.toString().replaceAll('+', '%20')}`
}

/** What waits, or was not taken, in a line. */
export function jobEntryWords(entry: Extract<YardEntry, { to: 'jobs' | 'job' }>): string {
  if (entry.to === 'jobs') return `${jobWords.needsTrip}: ${TROUBLE_NAMES[entry.body.trouble]}`
  const word = JOB_WORDS.find((one) => one === entry.body.word) ?? entry.body.word
  return `A trip: ${word}`
}
