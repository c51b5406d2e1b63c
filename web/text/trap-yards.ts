/** Words of Trap yards: where to set gates. */
import type { TrapYardsAnswer } from '../../services/http/trap-yard-shapes.ts'
import { head as headOf, list, plural, speciesMany } from './counts.ts'
import { headRange } from './head-range.ts'
import { dayName } from './times.ts'

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

export function basisWords(answer: TrapYardsAnswer): string {
  const { range, visitsADay, lookedAt } = answer
  const memory = range.fromMemory ? 'from memory, check locally' : range.source
  const drinks =
    visitsADay.low === visitsADay.high ? `${visitsADay.low}` : `${visitsADay.low} to ${visitsADay.high}`
  return `From visits of the ${answer.nights} nights ${dayName(lookedAt.from)} to ${dayName(lookedAt.to)}; a daily range of ${range.km} km (${memory}); ${drinks} ${drinks === '1' ? 'visit' : 'visits'} to water a day${visitsADay.fromMemory ? ' (from memory, check locally)' : ''}.`
}

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
