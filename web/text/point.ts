/** Words of a point's page. */
import type { DayAnswer, NightOfPoint, PointAnswer, Visit } from '../../services/http/shapes.ts'
import { head, plural } from './counts.ts'
import { clockSpan } from './times.ts'

export const pointWords = {
  point: 'Point',
  now: 'How it stands',
  back: 'Water run',
  lastWord: 'Last word',
  putInCard: 'Put in its card',
  quietOrDown: 'It sends no daily sign of life, so a quiet spell cannot be told from a camera down.',
  unreadable: (count: number) => `${plural(count, 'file')} could not be read`,
  cameraState: (name: string, down: boolean, spoke: boolean) =>
    down ? `${name}: camera down` : spoke ? `${name}: watching` : `${name}: new, no photo yet`,
  water: 'Water',
  lastDay: 'The last day, hour by hour',
  lastDayHint:
    'Latest on the right. Hatched hours were not watched; the dotted ones are known once the camera speaks again.',
  nights: 'Night by night',
  nightsHint:
    'Each bar is the most animals in any one photo of that night: the least number that was there. Hatched: not watched, which is not the same as no animals.',
  earlierNights: 'Earlier nights',
  laterNights: 'Later nights',
  visits: 'Visits',
  photos: 'Photos',
  noVisits: 'No visits counted this night.',
  notWatchedNight: 'This night was not watched, so nobody can say what came.',
  notWatchedYet: 'No camera here has spoken since noon, so nobody can say yet what came.',
  noPhotos: {
    what: 'No photos this night.',
    remedy: 'Choose another night above, or check that the camera is sending.',
  },
  cameras: 'Cameras here',
  noCameras: { what: 'No camera here yet.', remedy: 'Add one in Set-up.', action: 'Set-up' },
  history: 'What was said of this point',
  noHistory: 'Nothing yet. Say how the water is with one tap above.',
  trap: 'Trap yard',
  trapButtons: { open: 'Trap open', set: 'Trap set', shut: 'Shut down' },
  confirmSet: 'Yes, the trap is set',
  keepAsIs: 'Leave it as it is',
  otherWords: 'Rain, water off, spelled',
  saved: (words: string) => `Saved: ${words}.`,
  yard: 'trap yard',
  otherKinds: {
    rain: 'Rain here',
    'water off': 'Water off',
    spelled: 'Spelled',
  },
  hourWatched: { yes: 'no photos', no: 'not watched', 'not yet known': 'not known yet' },
  hourWords: (clock: string, count: number, watched: DayAnswer['hours'][number]['watched']) =>
    `${clock}: ${count > 0 ? plural(count, 'photo') : pointWords.hourWatched[watched]}`,
  spell: (from: string, to: string) => `${from} to ${to}`,
  openNight: (night: string) => `Show the night ${night}`,
  visitPhotos: (count: number) => plural(count, 'photo'),
  species: 'Species',
  begunBefore: 'in a visit begun the night before',
  notWatched: 'not watched',
  none: 'none',
} as const

/** `bore, yard, 5.0 km from the homestead` */
export function pointLine(point: PointAnswer['point']): string {
  const yard = point.hasYard ? `, ${pointWords.yard}` : ''
  return `${point.kind}${yard}, ${point.km.toFixed(1)} km from the homestead`
}

/** `3 camels, 21:40 to 22:15, Kite Bore` */
export function visitSentence(visit: Visit): string {
  return `${head(visit.species, visit.peak)}, ${clockSpan(visit.startedAt, visit.endedAt)}, ${visit.pointName}`
}

/** What a screen reader says of one cell of the nights table. */
export function nightCellWords(
  seen: NightOfPoint['species'][number] | undefined,
  watched: number | null,
): string {
  if (seen !== undefined) {
    const visits = seen.visits === 0 ? pointWords.begunBefore : plural(seen.visits, 'visit')
    return `at least ${seen.least}, ${visits}`
  }
  return watched === null || watched <= 0 ? pointWords.notWatched : pointWords.none
}

/** A word once said of a point, as a past event. */
export function stateWords(state: PointAnswer['states'][number]): string {
  const level = state.levelPercent === null ? '' : ` (${Math.round(state.levelPercent)} % by reading)`
  const note = state.note === null || state.note === '' ? '' : `: ${state.note}`
  return `${state.kind.slice(0, 1).toUpperCase()}${state.kind.slice(1)}${level}${note}`
}
