/** Words of counts from notebooks. They are said to be that wherever they stand. */
import type { PastCount, PastCountFile, PastCountsCompared } from '../../services/http/past-count-shapes.ts'
import { plural } from './counts.ts'
import { dayName } from './times.ts'

export const pastCountWords = {
  setup: {
    hint: 'What somebody wrote down at the waters before there were cameras. It stands beside what cameras count, marked as from a notebook, and is in none of their numbers.',
    columns:
      'CSV with a head line: point, night (2025-11-03), species, head (the most at once; 0 where you looked and saw none), and if written down visits, watched (part of the night, 0 to 1), note.',
    who: 'Who wrote it down',
    choose: 'Choose a file',
    taken: (counts: number) => `${plural(counts, 'count')} taken in.`,
    known: 'That file is in already; nothing was added.',
    wrongFile: { what: 'That is no .csv file.', remedy: 'Save the table as CSV and choose it again.' },
    none: 'No notebook yet.',
    withdraw: 'Withdraw',
    withdrawOf: (name: string) => `Withdraw ${name}`,
    withdrawWarns: 'None of its counts is shown any more. It may be given again. Withdraw it?',
    withdrawYes: 'Yes, withdraw it',
  },
  point: {
    title: 'From a notebook',
    hint: 'Written down by people, not counted by cameras, and in none of the numbers above.',
    heads: {
      night: 'Night',
      species: 'Species',
      most: 'Most at once',
      visits: 'Visits',
      watched: 'Part of the night watched',
      note: 'Note',
    },
    showAll: (count: number) => `Show all ${plural(count, 'count')}`,
  },
  compared: {
    title: 'Beside a notebook',
    otherSeason: 'Another season: the notebook has none of these weeks in an earlier year.',
    visits:
      'Visits are compared where the notebook says both how often they came and how long somebody watched.',
    caution:
      'People and cameras do not see the same, so a difference may be one of eyes and not of animals. Nights that are not in the notebook are not known.',
    point: 'Point',
    heads: {
      species: 'Species',
      notebookMost: 'Most at once a night, notebook',
      camerasMost: 'Most at once a night, cameras',
      notebookVisits: 'Visits, notebook',
      camerasVisits: 'Visits, cameras',
      change: 'Cameras against notebook',
    },
  },
  notSaid: 'not said',
} as const

const part = (share: number) => (Number.isInteger(share) ? String(share) : share.toFixed(2).replace(/0$/, ''))

/** `0.5` */
export function watchedPart(watched: PastCount['watched']): string {
  return watched === null ? pastCountWords.notSaid : part(watched)
}

/** `3 Nov 2025` */
function dayYear(night: string): string {
  return `${dayName(night)} ${night.slice(0, 4)}`
}

export const nightOfNotebook = dayYear

/** `120 counts at 4 points, Mon 3 Nov 2025 to Sat 28 Feb 2026, by Pat` */
export function fileLine(file: PastCountFile): string {
  const span =
    file.firstNight === file.lastNight
      ? dayYear(file.firstNight)
      : `${dayYear(file.firstNight)} to ${dayYear(file.lastNight)}`
  const by = file.who === 'station' ? '' : `, by ${file.who}`
  return `${plural(file.counts, 'count')} at ${plural(file.points, 'point')}, ${span}${by}`
}

export function withdrawnLine({ withdrawnAt, withdrawnBy }: PastCountFile): string {
  const by = withdrawnBy === null || withdrawnBy === 'station' ? '' : ` by ${withdrawnBy}`
  return `Withdrawn ${dayYear(withdrawnAt ?? '')}${by}`
}

/** What is held against what. */
export function comparedLine({ cameras, notebook }: PastCountsCompared): string {
  if (notebook === null) return ''
  const spans = `Cameras, ${dayYear(cameras.from)} to ${dayYear(cameras.to)}, held against the notebook, ${dayYear(notebook.from)} to ${dayYear(notebook.to)}`
  const years =
    notebook.yearsBack === 1
      ? 'the same weeks a year before'
      : `the same weeks ${notebook.yearsBack} years before`
  return notebook.yearsBack === null ? `${spans}.` : `${spans}: ${years}.`
}

type Side = Pick<
  PastCountsCompared['rows'][number]['cameras'],
  'headANight' | 'headNights' | 'visits' | 'watchedNights' | 'most'
>

/** `4.2 on average, 12 at most, 31 nights` */
export function mostWords({ headANight, headNights, most }: Side): string {
  if (headANight === null) return 'not watched'
  return `${part(Math.round(headANight * 10) / 10)} on average, ${most} at most, ${plural(headNights, 'night')}`
}

/** `5 in 2.5 nights` */
export function visitsWords({ visits, watchedNights }: Side): string {
  if (visits === null || watchedNights === null) return pastCountWords.notSaid
  return watchedNights === 0
    ? 'not watched'
    : `${visits} in ${part(Math.round(watchedNights * 10) / 10)} nights watched`
}

/** `more: 2.0 times (0.9 to 4.3)` */
export function changeWords(change: PastCountsCompared['rows'][number]['change']): string {
  if (change === null) return 'not compared'
  const { verdict, ratio, low, high } = change
  if (ratio === null || verdict === 'too few nights to tell') return verdict
  return `${verdict}: ${ratio.toFixed(1)} times (${low?.toFixed(1)} to ${high === null ? 'no end' : high.toFixed(1)})`
}
