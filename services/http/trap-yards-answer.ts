/** Trap yards as the API answers them: which clusters can be closed whole, where the yards meet most, and what is in the way. */
import { addedBy, type HeadBetween, metRange, shiftRange } from '../planning/met-range.ts'
import { keptOpenFor, otherWaterState } from '../planning/other-water.ts'
import { trainingCalendar, trainingStage } from '../planning/training-calendar.ts'
import type { YardCluster } from '../planning/yard-places.ts'
import { toStationTime } from '../station-time.ts'
import type { Ledger } from '../store/open.ts'
import type { PointRow } from '../store/points.ts'
import { type FirstUse, readCountsUnlike, readFirstUses } from '../store/yard-sightings.ts'
import type { RateInterval } from '../tally/poisson-interval.ts'
import { type Instant, type NightDate, SPECIES, type Species } from '../words.ts'
import { rounded } from './rounded.ts'
import type { TrapYardsAnswer, YardClusterAnswer, YardPoint } from './trap-yard-shapes.ts'
import { NIGHTS_LOOKED_AT, type YardFacts, yardFacts } from './yard-facts.ts'

export const NO_HEAD: RateInterval = { low: 0, rate: 0, high: 0 }

export async function trapYardsOf(
  ledger: Ledger,
  asked: { readonly species: Species | undefined; readonly now: Instant },
): Promise<TrapYardsAnswer> {
  const facts = await yardFacts(ledger, { ...asked, withMoves: true })
  const { settings, species, means, ranges, ratings, places } = facts
  const [firstUses, unlike] = await Promise.all([
    readFirstUses(ledger, species),
    readCountsUnlike(ledger, { species, ...facts.lookedAt }),
  ])
  const now = toStationTime(asked.now, settings.zone)
  return {
    station: settings.name,
    now,
    today: now.slice(0, 10),
    homestead: { ...settings.homestead },
    species,
    choices: SPECIES.map((one) => ({
      species: one,
      role: settings.roles[one],
      animalVisits: facts.animalVisits.get(one) ?? 0,
    })),
    lookedAt: { ...facts.lookedAt },
    nights: NIGHTS_LOOKED_AT,
    waiting: unlike.waiting,
    taken: unlike.taken.map((one) => ({ ...one })),
    means: {
      portableYards: means.portableYards,
      nightsSet: means.nightsSet,
      openWeeks: means.training.open,
      checkingWeeks: means.training.checking,
      saidAt: means.saidAt && toStationTime(means.saidAt, settings.zone),
    },
    range: { species, ...ranges[species] },
    ranges: SPECIES.map((one) => ({ species: one, ...ranges[one] })),
    visitsADay: {
      low: ratings.visitsADay.low,
      high: ratings.visitsADay.high,
      fromMemory: ratings.visitsADay.fromMemory,
    },
    dispersion: facts.dispersion && rounded(facts.dispersion.factor),
    points: facts.points.map((point) =>
      pointOf(point, { facts, firstUse: firstUses.find(({ pointId }) => pointId === point.id) }),
    ),
    clusters: places.clusters.map((cluster) => clusterOf(cluster, facts)),
    close: closeOf(facts),
    meet: meetOf(facts),
  }
}

/** Of an interval, each end by itself. */
export const roundedInterval = ({ low, rate, high }: RateInterval): RateInterval => ({
  low: rounded(low),
  rate: rounded(rate),
  high: rounded(high),
})

function pointOf(
  point: PointRow,
  { facts, firstUse }: { readonly facts: YardFacts; readonly firstUse: FirstUse | undefined },
): YardPoint {
  const { settings, states, waters, places } = facts
  const water = places.waters.find(({ pointId }) => pointId === point.id)!
  const word = waters.words.get(point.id)
  const trap = states.traps.get(point.id)
  return {
    pointId: point.id,
    name: point.name,
    lat: point.lat,
    lon: point.lon,
    hasYard: point.has_yard,
    trap: trap === 'trap open' ? 'open' : trap === 'trap set' ? 'set' : trap ? 'shut down' : null,
    withoutWater: states.withoutWater.has(point.id),
    use: water.use,
    watchedNights: rounded(water.totals.watchedNights),
    visits: water.totals.visits + water.totals.visitsNotWatched,
    rate: water.rate && roundedInterval(water.rate),
    otherWater: {
      state: otherWaterState(word, waters.asked),
      at: word === undefined ? null : toStationTime(word.at, settings.zone),
      who: word?.who ?? null,
      openPointIds: [...(word?.openPointIds ?? [])],
      elsewhere: word?.elsewhere ?? null,
    },
    lack: facts.lacks.get(point.id) ?? null,
    keptOpenFor: keptOpenFor(point.id, waters),
    training: trainingOf(firstUse, facts),
  }
}

function trainingOf(
  firstUse: FirstUse | undefined,
  { means, now, settings }: YardFacts,
): YardPoint['training'] {
  const today = toStationTime(now, settings.zone).slice(0, 10) as NightDate
  return {
    firstUsed: firstUse === undefined ? null : { on: firstUse.on, by: firstUse.by },
    stage: trainingStage(firstUse?.on ?? null, { today, weeks: means.training }),
    days: firstUse === undefined ? [] : trainingCalendar(firstUse.on, means.training),
  }
}

function clusterOf(cluster: YardCluster, { places, lacks, points }: YardFacts): YardClusterAnswer {
  const { clusterId, pointIds, head } = cluster
  const standing = new Set(points.filter((point) => point.has_yard).map(({ id }) => id))
  const needAt = pointIds.filter((id) => !standing.has(id))
  const closed = places.close.closed.includes(clusterId)
  const seen = head !== null && head.rate > 0
  const yardsShort = closed ? 0 : Math.max(0, needAt.length - places.close.yardsLeft)
  return {
    clusterId,
    pointIds: [...pointIds],
    head: head && roundedInterval(head),
    pairs: cluster.pairs.map(({ pointIds: pair, km, followed }) => ({
      pointIds: [...pair] as [number, number],
      km: rounded(km),
      followed: followed && {
        ...followed,
        byChance: followed.byChance === null ? null : rounded(followed.byChance),
        p: followed.p === null ? null : rounded(followed.p),
      },
    })),
    unsureIds: [...cluster.unsureIds],
    nearby: cluster.nearby.map(({ pointId, km }) => ({ pointId, km: rounded(km) })),
    lacks: cluster.blockedIds.map((pointId) => ({ pointId, lack: lacks.get(pointId)! })),
    needAt,
    yardsShort,
    says: closed
      ? 'close it whole'
      : !seen
        ? 'none seen'
        : cluster.blockedIds.length > 0
          ? 'other water not sure'
          : 'yards short',
  }
}

function closeOf({ places, points }: YardFacts): TrapYardsAnswer['close'] {
  const { close, clusters } = places
  const closed = clusters.filter(({ clusterId }) => close.closed.includes(clusterId))
  const all = closed.flatMap(({ pointIds }) => pointIds)
  return {
    clusterIds: [...close.closed],
    portableAt: [...close.setAt],
    standingAt: points.filter(({ id, has_yard }) => has_yard && all.includes(id)).map(({ id }) => id),
    head: roundedInterval(closed.reduce((sum, { head }) => plusInterval(sum, head ?? NO_HEAD), NO_HEAD)),
    yardsLeft: close.yardsLeft,
  }
}

/** Both ends added up: on the safe side, as each errs for itself. */
export const plusInterval = (a: RateInterval, b: RateInterval): RateInterval => ({
  low: a.low + b.low,
  rate: a.rate + b.rate,
  high: a.high + b.high,
})

function meetOf({ places }: YardFacts): TrapYardsAnswer['meet'] {
  const { meet, standing, groups } = places
  if (meet === null) return null
  const set = [...standing, ...meet.points]
  const range = metRange(groups, set)
  return {
    portableAt: [...meet.points],
    standingAt: [...standing],
    met: roundedInterval(range.met),
    metIfKeeping: rounded(range.metIfKeeping),
    notMet: roundedInterval(range.notMet),
    of: roundedInterval(groups.reduce((sum, { head }) => plusInterval(sum, head), NO_HEAD)),
    how: meet.how,
    atLeastOfBest: rounded(meet.atLeastOfBest),
    oneMore: meet.oneMore && roundedHead(addedBy(groups, { set, pointId: meet.oneMore.pointId })),
    shiftsTo: shiftRange(groups, set).map(roundedHead),
  }
}

export const roundedHead = ({ pointId, low, high }: HeadBetween): HeadBetween => ({
  pointId,
  low: rounded(low),
  high: rounded(high),
})
