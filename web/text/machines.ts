/** Words of Machines that look at photos. */
import type { WorkerAnswer } from '../../services/http/shapes.ts'
import { plural } from './counts.ts'
import { age } from './times.ts'

export const machineWords = {
  alone:
    'This station looks at its photos on its own computer, and most never need another. Whoever looks after it can set it up so that others join: the page docs/workers.md, which comes with Hooftally, says how.',
  hint: 'Each machine joins with a key. Any of them can be switched off at any time: what it had in hand goes to the others.',
  none: {
    what: 'No machine has joined yet.',
    remedy: 'Make a key below: it comes with the line that starts a machine with it, this one or another.',
  },
  keys: 'Keys',
  noKeys: 'No keys yet.',
  keyName: 'Name of the key',
  keyNameHint: 'Where the machine stands, say: Office, Shed.',
  make: 'Make a key',
  keyTitle: (name: string) => `Key of ${name}`,
  withKey: (name: string) => `key of ${name}`,
  keyOnce: 'This key is shown once. Keep it where only the machine’s keeper can read it.',
  startLine: 'On the machine that is to look at photos, in the folder of Hooftally:',
  keyHint: (hint: string) => `Key ends in ${hint}`,
  revoke: 'Revoke',
  revokeWarns: 'Machines with this key stop looking at photos at once. Revoke it?',
  revokeYes: 'Yes, revoke the key',
} as const

/** The line that starts a worker with this key. */
export function startLine(origin: string, key: string): string {
  return `HOOFTALLY_WORKER_KEY=${key} node services/start.mjs worker --api ${origin}`
}

/** How a machine is: `At work, last word just now`. */
export function machineState(machine: WorkerAnswer, now: string): string {
  if (machine.keyRevoked) return `Key revoked, last word ${age(machine.lastWordAt, now)}`
  return `${machine.atWork ? 'At work' : 'Not at work'}, last word ${age(machine.lastWordAt, now)}`
}

/** `1,204 photos, 3 given up; 900 an hour`: all it ever did, and its own measure of the last minutes. */
export function machineDone({ photosDone, photosFailed, photosAnHour, atWork }: WorkerAnswer): string {
  const done = plural(photosDone, 'photo')
  const failed = photosFailed === 0 ? '' : `, ${photosFailed.toLocaleString('en-AU')} given up`
  const rate = atWork ? `; ${Math.round(photosAnHour).toLocaleString('en-AU')} an hour` : ''
  return `${done}${failed}${rate}`
}
