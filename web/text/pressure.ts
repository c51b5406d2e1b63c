/** The week's grazing pressure in words, on screen and on paper alike. */
import type {
  ComparedAnswer,
  IntervalAnswer,
  PressureAnswer,
  PressurePoint,
  PressureRow,
} from '../../services/http/pressure-shapes.ts'
import type { Species } from '../../services/words.ts'
import { plural, speciesMany } from './counts.ts'
import { clockOf, dayName, nightAfter } from './times.ts'

const FEW = 10

export const pressureWords = {
  title: 'Grazing pressure',
  earlier: 'Earlier week',
  later: 'Later week',
  week: 'Week',
  print: 'Print',
  csv: 'Numbers as CSV',
  units: 'What its columns are',
  changed: 'What changed',
  nothingChanged: 'Nothing changed by more than chance may do.',
  nothingSeen: 'No animals were counted in this week or the four before.',
  byPoint: 'Visits by point',
  byPointHint:
    'Visits in the nights that were watched. The sign beside a number says how the four weeks before compare: an arrow up for more now, an arrow down for fewer, ? worth a look, a dash for no clear change, a dot for too few nights to tell, or for photos that are still being read.',
  byPointPaper: 'Visits in the nights that were watched, and what that is against the four weeks before.',
  point: 'Point',
  chosen: 'Show in full',
  nights: (species: Species) => `Night by night: visits of ${speciesMany(species)}`,
  nightsHint:
    'Hatched: not watched, which is not the same as none. Dotted: not known yet. A number opens its photos.',
  map: (species: Species) => `Where ${speciesMany(species)} come`,
  mapHint: 'Rings by visits per 100 watched nights. North is up. A dashed ring was not watched.',
  mapLabel: (species: Species) =>
    `Points on a map, rings as wide as the rate of visits of ${speciesMany(species)}`,
  numbers: (species: Species) => `All numbers of ${speciesMany(species)}`,
  heads: {
    place: 'Place',
    visits: 'Visits',
    watched: 'Nights watched',
    rate: 'Visits per 100 nights',
    ranked: 'For ranking',
    animals: 'Animal-visits a night',
    largest: 'Largest group',
    seen: 'First and last seen',
    last: 'Against last week',
    four: 'Against four weeks',
    litres: 'Litres a day',
    feed: 'Dry sheep equivalents',
  },
  numbersHint:
    'Ranges hold the true rate 95 times in 100. “For ranking” draws points with few watched nights towards the station’s rate. An animal-visit is one animal in one visit: one animal may be in it many times.',
  water: 'Water drunk',
  waterHint:
    'What visits come to by the ratings in Set-up, litres a day; ranges from the low end to the high end. Ratings marked “from memory” are to be checked locally.',
  byFerals: 'By ferals',
  byStock: 'By stock',
  share: 'Ferals’ share',
  ratings: 'Ratings',
  hours: 'When they come',
  hoursPoint: 'Point',
  hoursOther: 'Beside',
  nobody: 'No other',
  onClock: 'On the clock',
  bySun: 'Held to the sun',
  hoursAs: 'Hours',
  gaps: 'What is not in these numbers',
  allWatched: 'Every point was watched every night.',
  allChecked: 'Every flagged photo of the week has been looked at.',
  noPoints: {
    what: 'No points yet.',
    remedy: 'Add your bores, tanks and troughs in Set-up, then come back when photos have come in.',
    action: 'Add points',
  },
  least: 'Counts are the least number seen by a machine and a camera, not a census: plan for the high end.',
} as const

/** `7`, `6.5`: watched nights, to a tenth. */
export function nightsNumber(nights: number): string {
  return String(Math.round(nights * 10) / 10)
}

/** `14 visits in 7 watched nights against 13 in the 28 before` */
export function spellsWords(visits: number, watched: number, before: ComparedAnswer): string {
  return `${plural(visits, 'visit')} in ${nightsNumber(watched)} watched nights against ${before.visits} in the ${nightsNumber(before.watchedNights)} before`
}

/** A change as a sentence, its verdict first. */
export function changeWords(row: PressureRow, point: PressurePoint, before: ComparedAnswer): string {
  const many = speciesMany(row.species)
  const spells = spellsWords(row.visits, point.watchedNights, before)
  switch (before.verdict) {
    case 'more':
    case 'fewer':
      return `${before.verdict === 'more' ? 'More' : 'Fewer'} ${many} at ${point.name}: ${spells}; unlikely to be chance.`
    case 'worth a look':
      return `${(before.ratio ?? 2) > 1 ? 'Perhaps more' : 'Perhaps fewer'} ${many} at ${point.name}: ${spells}; worth a look, but among so many points one may do so by chance.`
    case 'no clear change':
      return `No clear change of ${many} at ${point.name}: ${spells}.`
    case 'too few nights to tell':
      return `Too few nights to tell of ${many} at ${point.name}: ${spells}.`
    case 'photos still being read':
      return `Photos still being read of ${point.name}: nobody can say yet whether more ${many} came.`
  }
}

export interface Change {
  readonly row: PressureRow
  readonly point: PressurePoint
  readonly against: 'lastWeek' | 'fourWeeks'
  readonly words: string
  /** Words on the point that make the spells unlike. */
  readonly unlike: string | null
}

/** What changed, what most asks for a person first: more ferals, fewer stock, then what may be so. */
export function changesOf(answer: PressureAnswer): Change[] {
  const feral = new Set(answer.species.filter(({ role }) => role === 'feral').map(({ species }) => species))
  const points = new Map(answer.points.map((point) => [point.pointId, point]))
  const changes = answer.rows.flatMap((row) => {
    const against = tellingSpell(row)
    if (against === null) return []
    const point = points.get(row.pointId)!
    const { verdict, ratio } = row[against]
    const wanted =
      feral.has(row.species) === (verdict === 'more' || (verdict === 'worth a look' && (ratio ?? 2) > 1))
    const rank = (verdict === 'worth a look' ? 2 : 0) + (wanted ? 0 : 1)
    return [
      { row, point, against, words: changeWords(row, point, row[against]), unlike: unlikeWords(point), rank },
    ]
  })
  return changes.sort((a, b) => a.rank - b.rank || (a.row[a.against].p ?? 1) - (b.row[b.against].p ?? 1))
}

/** Four weeks tell more than one; one is told where only it stands out. */
function tellingSpell(row: PressureRow): Change['against'] | null {
  const tells = ({ verdict }: ComparedAnswer) => verdict === 'more' || verdict === 'fewer'
  if (tells(row.fourWeeks)) return 'fourWeeks'
  if (tells(row.lastWeek)) return 'lastWeek'
  if (row.fourWeeks.verdict === 'worth a look') return 'fourWeeks'
  return row.lastWeek.verdict === 'worth a look' ? 'lastWeek' : null
}

/** `Water off on Tue 3 Nov: the weeks may be unlike.` */
export function unlikeWords({ states }: PressurePoint): string | null {
  if (states.length === 0) return null
  const latest = new Map(states.map(({ kind, at }) => [kind, at]))
  const told = [...latest].map(([kind, at]) => `${kind} on ${dayName(at)}`).join(', ')
  return `${told.slice(0, 1).toUpperCase()}${told.slice(1)}: the weeks may be unlike.`
}

/** `41`, `4.1`, `0.41`: as many digits as say something. */
export function told(value: number): string {
  if (value >= FEW) return Math.round(value).toLocaleString('en-AU')
  return String(Number(value.toPrecision(2)))
}

/** `43 (8.8 to 125)`, or `not watched`. */
export function rangeWords(interval: IntervalAnswer | null): string {
  if (interval === null) return 'not watched'
  return `${told(interval.rate)} (${told(interval.low)} to ${told(interval.high)})`
}

/** `Week 46: noon Mon 9 Nov to noon Mon 16 Nov` */
export function weekSpan({ from, to }: Pick<PressureAnswer, 'from' | 'to'>): string {
  return `noon ${dayName(from)} to noon ${dayName(nightAfter(to, 1))}`
}

/** `Week 46 of 2026` */
export function weekTitle(week: string): string {
  return `Week ${Number(week.slice(6))} of ${week.slice(0, 4)}`
}

/** `Mon 21:40 to Sun 04:10` */
export function seenWords({ firstAt, lastAt }: PressureRow): string {
  if (firstAt === null || lastAt === null) return 'none'
  return `${dayName(firstAt).slice(0, 3)} ${clockOf(firstAt)} to ${dayName(lastAt).slice(0, 3)} ${clockOf(lastAt)}`
}

/** The place by the rate that is for ranking; points that differ by no more than chance have none. */
export function placeWords({ ranked }: PressureRow): string {
  if (ranked === null) return 'none'
  return ranked.ownShare === 0 ? 'alike' : String(ranked.place)
}

/** `61 of 70 nights watched: ...` */
export function watchedLine({ watchedNights, points, nights, over }: PressureAnswer): string {
  const meant = points.length * nights.length
  return `${nightsNumber(watchedNights)} of ${meant} nights watched${over ? '' : ' so far'}: each point’s night counts once, however many cameras watch it.`
}

/** Points that were not watched for the whole week, each with what was. */
export function gapsOf({ points, nights }: PressureAnswer): string[] {
  return points.flatMap(({ name, watchedByNight, watchedNights }) => {
    const known = watchedByNight.filter((part) => part !== null)
    const lost = known.reduce((sum, part) => sum + (1 - part), 0)
    if (watchedNights === 0) return [`${name}: not watched, so nobody can say what came.`]
    return lost < 0.5 ? [] : [`${name}: ${nightsNumber(watchedNights)} of ${nights.length} nights watched.`]
  })
}

/** `12 flagged photos still to check: numbers may change.` */
export function checkLine({ toCheck, waiting }: PressureAnswer): string {
  const parts = [
    toCheck === 0
      ? pressureWords.allChecked
      : `${plural(toCheck, 'flagged photo')} still to check: the numbers may change.`,
    ...(waiting === 0 ? [] : [`${plural(waiting, 'photo')} of the week still being read.`]),
  ]
  return parts.join(' ')
}

/** That some points can't be compared yet; null: all can. */
export function beingReadLine({ rows }: PressureAnswer): string | null {
  const points = new Set(
    rows.filter((row) => row.fourWeeks.verdict === 'photos still being read').map(({ pointId }) => pointId),
  )
  if (points.size === 0) return null
  return `Photos of the five weeks are still being read at ${plural(points.size, 'point')}: what changed there can’t be told yet.`
}
