/** Words of looking at old photos again, and of counting again under new marks. */
import type { Progress, Recount, Rerun, RerunCount } from '../../services/http/shapes.ts'
import { plural } from './counts.ts'
import { dayName } from './times.ts'

export const againWords = {
  hint: 'When the models of the station get better, old photos can be looked at once more. It goes on in the background and never holds up a new photo. What people checked stands, and the old counts stand until a photo has been looked at again.',
  none: 'The present models have looked at every photo. There is nothing to look at again.',
  from: 'From the night of',
  to: 'To the night of',
  point: 'At',
  allPoints: 'All points',
  unreadable: 'Also photos that could not be read',
  start: 'Look at them again',
  startUnreadable: 'Try them again',
  pause: 'Pause',
  goOn: 'Go on',
  stop: 'Stop',
  stopSure: 'Photos not looked at again yet keep their old counts. Stop?',
  stopYes: 'Yes, stop',
  recount: 'Counting again after a change in Set-up',
  recountHint: 'Until it is through, older photos still show the old counts.',
  failures: 'These could not be looked at again and stand as they were:',
  photo: (id: number) => `Photo ${id.toLocaleString('en-AU')}`,
} as const

/** `Tue 24 Nov 2026` */
function night(date: string): string {
  return `${dayName(date)} ${date.slice(0, 4)}`
}

function span(from: string, to: string): string {
  return from === to ? `of the night of ${night(from)}` : `of the nights ${night(from)} to ${night(to)}`
}

/** `An older model looked at 1,650 photos, of the nights Thu 1 Oct 2026 to Tue 24 Nov 2026.` */
export function olderWords({ photos, from, to, models }: RerunCount): string {
  if (from === null || to === null) return againWords.none
  const by = models.stationNamer === null ? 'An older model looked at' : 'Older models or names counted'
  return `${by} ${plural(photos, 'photo')}, ${span(from, to)}.`
}

/** `3 photos could not be read, of the night of Tue 24 Nov 2026. They can be tried again.` */
export function unreadableWords({ photos, from, to }: RerunCount): string {
  const nights = from === null || to === null ? '' : `, ${span(from, to)}`
  const again = photos === 1 ? 'It can be tried again' : 'They can be tried again'
  return `${plural(photos, 'photo')} could not be read${nights}. ${again}.`
}

/** `That is 420 photos.` */
export function chosenWords(count: RerunCount): string {
  return count.photos === 0
    ? 'That is no photo: choose other nights.'
    : `That is ${plural(count.photos, 'photo')}.`
}

const of = (done: number, total: number) => `${done.toLocaleString('en-AU')} of ${plural(total, 'photo')}`

const failedWords = (failed: number) => (failed === 0 ? '' : `, ${failed.toLocaleString('en-AU')} failed`)

/** How far a re-run is, or how it ended. */
export function rerunWords(rerun: Rerun): string {
  const { done, failed, total } = rerun
  const nights = span(rerun.from, rerun.to)
  switch (rerun.state) {
    case 'running':
      return `Looking again: ${of(done + failed, total)} ${nights}${failedWords(failed)}.`
    case 'paused':
      return `Paused: ${of(done + failed, total)} ${nights}${failedWords(failed)}.`
    case 'done':
      return `Done: ${plural(done, 'photo')} looked at again${failedWords(failed)}.`
    case 'stopped':
      return `Stopped: ${of(done, total)} looked at again${failedWords(failed)}.`
  }
}

export function recountWords({ state, done, total }: Recount): string {
  return `${state === 'paused' ? 'Paused: ' : ''}${of(done, total)}.`
}

/** For the strip that tells of long work, on every screen that has it; null where there is none. */
export function againProgressWords({ again, recount }: Pick<Progress, 'again' | 'recount'>): string[] {
  const line = (words: string, part: Progress['again']) =>
    part === null ? [] : [`${words}${part.paused ? ' (paused)' : ''}: ${of(part.done, part.of)}`]
  return [...line('Looking at old photos again', again), ...line('Counting again', recount)]
}
