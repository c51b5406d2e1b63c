/** Words of Trap yards: where to set gates. */
import type {
  TrapYardsAnswer,
  YardClusterAnswer,
  YardPoint,
  YardTryAnswer,
} from '../../services/http/trap-yard-shapes.ts'
import { head as headOf, list, plural, speciesMany } from './counts.ts'
import { dayName } from './times.ts'

type Interval = TrapYardsAnswer['close']['head']
type Lack = YardTryAnswer['lacks'][number]['lack']

export const yardWords = {
  title: 'Trap yards',
  species: 'Species',
  print: 'Print',
  where: 'Where',
  map: 'The waters and the gates',
  legend: {
    portable: 'gates here, portable yard',
    standing: 'gates here, yard stands',
    yard: 'yard stands, no gates in this plan',
    seen: 'they drink here',
    notSeen: 'watched, none seen',
    notWatched: 'not watched enough to say',
    homestead: 'homestead',
    pair: 'within a day’s range of each other',
    moved: 'seen to move between them',
  },
  clusters: 'Waters that share animals',
  clustersHint:
    'Animals that find one water closed go to the next, so all waters of a cluster are closed together or not at all. (Common practice, no source.)',
  meetHead: 'If no cluster can be had whole',
  useThese: 'Use these points',
  means: 'Yards and weeks',
  notSaid: 'Say how many portable yards there are.',
  noPoints: {
    what: 'No points yet.',
    remedy: 'Add your bores, tanks and troughs in Set-up, then come back when photos have come in.',
    action: 'Add points',
  },
  cannotKnow: 'What these numbers can’t know',
  unknowns: [
    'Counts are the least number seen by a machine and a camera, not a census: size yards, feed and trucks for the high end.',
    'Nobody knows whether each animal keeps to one water or goes round them all. Where it matters both are told.',
    'Distances are as the crow flies: fences, ranges and creeks in flood are not known.',
    'Waters that no camera watches, surface water after rain and neighbours’ waters are in none of this.',
    'Animals that balk at a yard may go further than their daily range, or stay thirsty near it: go and look.',
  ],
} as const

/** `6 to 10 head`; small numbers to a tenth, the high end never rounded down. */
export function headRange({ low, high }: Pick<Interval, 'low' | 'high'>): string {
  const [from, to] = [down(low), up(high)]
  return from === to ? `${to} head` : `${from} to ${to} head`
}

/** `8 head`, `0.4 head`. */
export const headNumber = (head: number): string => `${near(head)} head`

const SMALL = 3
const down = (head: number) => (head < SMALL ? Math.floor(head * 10) / 10 : Math.floor(head))
const up = (head: number) => (head < SMALL ? Math.ceil(head * 10) / 10 : Math.ceil(head))
const near = (head: number) => (head < SMALL ? Math.round(head * 10) / 10 : Math.round(head))

export const nameOf = (answer: TrapYardsAnswer, id: number): string =>
  answer.points.find(({ pointId }) => pointId === id)?.name ?? `point ${id}`

export const namesOf = (answer: TrapYardsAnswer, ids: readonly number[]): string =>
  list(ids.map((id) => nameOf(answer, id)))

/** What is proposed, in a sentence or two. */
export function proposalWords(answer: TrapYardsAnswer): string {
  const many = speciesMany(answer.species)
  const { close, clusters } = answer
  if (close.clusterIds.length > 0) {
    const points = [...close.standingAt, ...close.portableAt]
    const yards =
      close.portableAt.length === 0
        ? 'Yards stand at all of them.'
        : `It takes ${plural(close.portableAt.length, 'portable yard')}, at ${namesOf(answer, close.portableAt)}.`
    return `Set gates at ${namesOf(answer, points)}: ${close.clusterIds.length === 1 ? 'the whole cluster' : `${close.clusterIds.length} whole clusters`} that ${many} share, ${headRange(close.head)}. ${yards}`
  }
  const seen = clusters.filter(({ says }) => says !== 'none seen')
  if (seen.length === 0)
    return `No ${many} were seen in the ${answer.nights} nights looked at, so nothing is proposed.`
  const unsure = seen.find(({ says }) => says === 'other water not sure')
  if (unsure !== undefined)
    return `Nothing is proposed for closing yet: other water for stock and wildlife is not sure at ${namesOf(
      answer,
      unsure.lacks.map(({ pointId }) => pointId),
    )}.`
  return `No cluster of waters that ${many} share can be closed whole with the yards there are: ${plural(seen[0]!.yardsShort, 'portable yard is', 'portable yards are')} missing for the one with the most head.`
}

export function clusterTitle(answer: TrapYardsAnswer, { pointIds }: YardClusterAnswer): string {
  return pointIds.length === 1
    ? `${nameOf(answer, pointIds[0]!)}, by itself`
    : `${pointIds.length} waters: ${namesOf(answer, pointIds)}`
}

export const clusterState: Readonly<Record<YardClusterAnswer['says'], string>> = {
  'close it whole': 'can be closed whole',
  'yards short': 'not enough yards',
  'other water not sure': 'other water not sure',
  'none seen': 'none seen',
}

export function clusterHead({ head }: YardClusterAnswer): string {
  if (head === null) return 'Nobody can say how many drink there: not watched.'
  return head.rate === 0
    ? 'None seen drinking there.'
    : `${headRange(head)} drink there, about ${near(head.rate)}.`
}

export function clusterYards(answer: TrapYardsAnswer, cluster: YardClusterAnswer): string {
  const standing = cluster.pointIds.filter((id) => !cluster.needAt.includes(id))
  const isAlone = cluster.pointIds.length === 1
  const stands =
    standing.length > 0
      ? `${standing.length === 1 ? 'A yard stands' : 'Yards stand'} at ${namesOf(answer, standing)}.`
      : `No yard stands ${isAlone ? 'there' : 'at any of them'}.`
  if (cluster.needAt.length === 0) return `${stands} No portable yard is needed.`
  const short =
    cluster.yardsShort === 0
      ? ''
      : ` ${plural(cluster.yardsShort, 'more is', 'more are')} needed than ${answer.close.clusterIds.length > 0 ? 'are left' : 'there are'}.`
  return `${stands} ${plural(cluster.needAt.length, 'portable yard is', 'portable yards are')} needed, at ${namesOf(answer, cluster.needAt)}.${short}`
}

export function nearbyWords(answer: TrapYardsAnswer, { nearby }: YardClusterAnswer): string | null {
  if (nearby.length === 0) return null
  const names = list(nearby.map(({ pointId, km }) => `${nameOf(answer, pointId)} (${Math.round(km)} km)`))
  return `Open waters within ${answer.range.km} km where none were seen: ${names}. They may shift there.`
}

export function unsureWords(answer: TrapYardsAnswer, { unsureIds }: YardClusterAnswer): string | null {
  if (unsureIds.length === 0) return null
  return `Not watched long enough to say that none come: ${namesOf(answer, unsureIds)}. They count as waters of the cluster until a camera says otherwise.`
}

export function withoutWaterWords(answer: TrapYardsAnswer, { pointIds }: YardClusterAnswer): string | null {
  const off = answer.points.filter(({ pointId, withoutWater }) => withoutWater && pointIds.includes(pointId))
  if (off.length === 0) return null
  return `Water last said to be off or dry: ${list(off.map(({ name }) => name))}. As long as it is, no gates are needed there; leave it out by hand.`
}

/** Under so many visits a wrong name alone may have brought a water into the cluster. */
const SELDOM = 3

export function seldomAt(answer: TrapYardsAnswer, { pointIds }: YardClusterAnswer): YardPoint[] {
  return answer.points.filter(
    ({ pointId, use, visits }) => pointIds.includes(pointId) && use === 'seen' && visits <= SELDOM,
  )
}

export const seldomWords = ({ visits, watchedNights }: YardPoint): string =>
  `${plural(visits, 'visit')} in ${plural(Math.round(watchedNights), 'watched night')}: look at the photos. A wrong name there asks for a yard.`

/** What cameras saw of animals that go from one water to the other. */
export function sharedWords(answer: TrapYardsAnswer, { pairs }: YardClusterAnswer): string[] {
  const pairNames = (pair: YardClusterAnswer['pairs'][number]) =>
    `${nameOf(answer, pair.pointIds[0])} and ${nameOf(answer, pair.pointIds[1])}`
  const moved = pairs.filter(({ followed }) => followed?.says === 'seen to move')
  const blind = pairs.filter(({ followed }) => followed === null || followed.says === 'too few nights')
  const chance = pairs.length - moved.length - blind.length
  return [
    ...moved.map(
      (pair) =>
        `Seen to move between ${pairNames(pair)}: ${plural(pair.followed!.moves, 'time')} in ${pair.followed!.nights} nights, where chance gives about ${near(pair.followed!.byChance ?? 0)}.`,
    ),
    ...(chance > 0
      ? [
          `${plural(chance, 'pair')} of waters ${chance === 1 ? 'is' : 'are'} joined by distance; the cameras saw no more moves than chance gives, which does not prove that none go.`,
        ]
      : []),
    ...blind.map(
      (pair) =>
        `By distance only: ${pairNames(pair)}, ${Math.round(pair.km)} km (too few nights with both watched).`,
    ),
  ]
}

const LACKS: Readonly<Record<Exclude<Lack, 'kept open'>, string>> = {
  'not said': 'Nobody has confirmed other water for',
  'taken back': 'The word on other water was taken back for',
  'ask again': 'Confirmed too long ago, or in another half-year, so confirm again for',
  'closed as well': 'Its other water would be closed as well:',
  'off or dry': 'Its other water was last said to be off or dry:',
}

/** What is in the way of closing waters, a line for each reason. */
export function lackLines(answer: TrapYardsAnswer, lacks: YardTryAnswer['lacks']): string[] {
  const reasons = [...new Set(lacks.map(({ lack }) => lack))]
  return reasons.flatMap((reason) => {
    const ids = lacks.filter(({ lack }) => lack === reason).map(({ pointId }) => pointId)
    if (reason !== 'kept open') return [`${LACKS[reason]} ${namesOf(answer, ids)}.`]
    return ids.map((id) => {
      const { name, keptOpenFor } = answer.points.find(({ pointId }) => pointId === id)!
      return `${name} is kept open: it is other water for ${namesOf(answer, keptOpenFor)}.`
    })
  })
}

/** Points of one word on other water, said at once, are told in one line. */
export function saidTogether(points: readonly YardPoint[]): YardPoint[][] {
  const words = new Map<string, YardPoint[]>()
  for (const point of points) {
    const word = JSON.stringify(point.otherWater)
    words.set(word, [...(words.get(word) ?? []), point])
  }
  return [...words.values()]
}

/** `Kite Bore and Galah Well: Ironbark Dam stays open (station, Sat 28 Nov)`; all by one word. */
export function otherWaterLine(answer: TrapYardsAnswer, points: readonly YardPoint[]): string {
  const { openPointIds, elsewhere, who, at } = points[0]!.otherWater
  const waters = [
    ...(openPointIds.length > 0
      ? [`${namesOf(answer, openPointIds)} ${openPointIds.length === 1 ? 'stays' : 'stay'} open`]
      : []),
    ...(elsewhere === null ? [] : [elsewhere]),
  ]
  return `${list(points.map(({ name }) => name))}: ${waters.join('; ')} (${who}, ${dayName(at!)})`
}

export const otherWaterWords = {
  title: 'Other water for stock and wildlife',
  confirm: 'Confirm other water',
  confirmed: 'Confirmed',
  forWhich: 'When gates are set at',
  stays: 'these waters stay open for stock and wildlife',
  elsewhere: 'Other water that is no point',
  elsewhereHint: 'Where it is, and for which animals',
  save: 'It is sure',
  takeBack: 'Take back',
  takeBackLabel: (name: string) => `Take back the word on other water for ${name}`,
  lasts:
    'Your word is kept with its date. It holds for 90 days, and is asked again when the hot or the cool half-year begins.',
} as const

export function meetWords(answer: TrapYardsAnswer): string {
  const meet = answer.meet!
  const points = [...meet.standingAt, ...meet.portableAt]
  return points.length === 0
    ? 'There is no yard to set: say in “Yards and weeks” how many portable ones there are.'
    : `Gates at ${namesOf(answer, points)} for ${plural(answer.means.nightsSet, 'night')}.`
}

export function howWords({ how, atLeastOfBest }: NonNullable<TrapYardsAnswer['meet']>): string {
  return how === 'every choice tried'
    ? 'Every choice of points was tried; with each drink taken to fall on a water by chance there is no better one.'
    : `Chosen step by step: at least ${Math.floor(atLeastOfBest * 100)} % of what the best choice could add.`
}

/** Both ways in which drinks may fall on waters. */
export function metLines(tried: Pick<YardTryAnswer, 'met' | 'metIfKeeping' | 'of'>): string[] {
  const { met, metIfKeeping, of } = tried
  return [
    `Comes to a set yard at least once: ${headRange(met)} of ${headRange(of)}.`,
    `${headNumber(metIfKeeping)} if each animal keeps to its own water, ${headNumber(met.rate)} if every drink falls on a water by chance.`,
  ]
}

/** Of a plan that leaves no water of its clusters open. */
export const wholeLine = ({ of }: Pick<YardTryAnswer, 'of'>): string =>
  `No water of the cluster is left open: all of its ${headRange(of)} come to a set yard, find water elsewhere, or go without.`

export function shiftLines(
  answer: TrapYardsAnswer,
  tried: Pick<YardTryAnswer, 'notMet' | 'shiftsTo'>,
): string[] {
  const to = tried.shiftsTo.filter(({ high }) => high >= LEAST_TOLD)
  if (to.length === 0) return ['Nothing is left to shift to other waters of the cluster.']
  return [
    `Not met, and free to shift to other waters: up to ${near(tried.notMet.high)} head. Up to ${list(
      to.map(({ pointId, high }) => `${near(high)} at ${nameOf(answer, pointId)}`),
    )}.`,
  ]
}
const LEAST_TOLD = 0.05

export function oneMoreLine(answer: TrapYardsAnswer, oneMore: YardTryAnswer['oneMore']): string | null {
  if (oneMore === null || oneMore.high < LEAST_TOLD) return null
  return `One more yard, at ${nameOf(answer, oneMore.pointId)}, would meet ${headRange(oneMore)} more.`
}

export function basisWords(answer: TrapYardsAnswer): string {
  const { range, visitsADay, lookedAt } = answer
  const memory = range.fromMemory ? 'from memory, check locally' : range.source
  const drinks =
    visitsADay.low === visitsADay.high ? `${visitsADay.low}` : `${visitsADay.low} to ${visitsADay.high}`
  return `From visits of the ${answer.nights} nights ${dayName(lookedAt.from)} to ${dayName(lookedAt.to)}; a daily range of ${range.km} km (${memory}); ${drinks} ${drinks === '1' ? 'visit' : 'visits'} to water a day${visitsADay.fromMemory ? ' (from memory, check locally)' : ''}.`
}

export function mapLabel(answer: TrapYardsAnswer, set: readonly number[]): string {
  const gates = set.length === 0 ? 'No gates are set in this plan.' : `Gates at ${namesOf(answer, set)}.`
  return `Map of the ${plural(answer.points.length, 'water')} of ${answer.station}, north up. ${gates}`
}

const USES: Readonly<Record<YardPoint['use'], string>> = {
  seen: 'they drink here',
  'not seen': 'watched, none seen',
  'not watched enough': 'not watched enough to say',
}

/** A point of the map for whoever can't see it. */
export function pointTold({ name, hasYard, use, rate }: YardPoint, isSet: boolean): string {
  const parts = [
    ...(isSet ? ['gates here'] : []),
    hasYard ? 'a yard stands' : isSet ? 'a portable yard' : 'no yard',
    use === 'seen' && rate !== null ? `${near(rate.rate)} animal-visits a night` : USES[use],
  ]
  return `${name}: ${parts.join(', ')}.`
}

export const scaleWords = (km: number): string => `${km} km`

/** `3 portable yards; gates set for 7 nights; 3 weeks of open gates, then 1 with one-way gates` */
export function meansLine({ means }: TrapYardsAnswer): string {
  const { portableYards, nightsSet, openWeeks, checkingWeeks } = means
  const yards = portableYards === 0 ? 'No portable yard' : plural(portableYards, 'portable yard')
  const line = `${yards}; gates set for ${plural(nightsSet, 'night')}; ${plural(openWeeks, 'week')} of open gates, then ${checkingWeeks} with one-way gates.`
  return means.saidAt === null ? `${yardWords.notSaid} ${line}` : line
}

/** What makes the counts of these nights unlike what comes now. */
export function unlikeLines(answer: TrapYardsAnswer): string[] {
  const { waiting, taken, species, lookedAt } = answer
  return [
    ...(waiting === 0
      ? []
      : [`${plural(waiting, 'photo')} of these nights ${waiting === 1 ? 'is' : 'are'} still being read.`]),
    ...(taken.length === 0
      ? []
      : [
          `Taken since ${dayName(lookedAt.from)}: ${list(taken.map(({ pointId, head }) => `${headOf(species, head)} at ${nameOf(answer, pointId)}`))}. They are still in the counts of the nights before.`,
        ]),
  ]
}
