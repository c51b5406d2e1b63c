/** Words of the waters that share animals. */
import type { TrapYardsAnswer, YardClusterAnswer, YardPoint } from '../../services/http/trap-yard-shapes.ts'
import { list, plural } from './counts.ts'
import { headRange, near } from './head-range.ts'
import { nameOf, namesOf } from './trap-yards.ts'

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
