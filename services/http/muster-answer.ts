/** A muster and the feed that is left, as the API answers them, on the figures that stand or on earlier ones. */
import { USUAL_MUSTER } from '../planning/muster-figures.ts'
import {
  type MusterAnswer,
  musterFromFigures,
  plus,
  type SeenAtPoint,
} from '../planning/muster-from-figures.ts'
import { toStationTime } from '../station-time.ts'
import { listMusterVersions, type MusterVersion, readMusterFigures } from '../store/muster.ts'
import { type NightsOfSpecies, readPointNights } from '../store/nights-of-points.ts'
import type { Ledger } from '../store/open.ts'
import { listPoints, type PointRow } from '../store/points.ts'
import { type AllRatings, readRatings } from '../store/ratings.ts'
import { readSettings, type Settings } from '../store/settings.ts'
import { nightOf, nightsOn } from '../tally/nights.ts'
import { type PointLoad, pointLoads } from '../tally/point-loads.ts'
import type { RateInterval } from '../tally/poisson-interval.ts'
import { type Instant, type NightDate, type Role, SPECIES, type Species, type Zone } from '../words.ts'
import type { MusterAnswerShape } from './muster-shapes.ts'
import { rounded } from './rounded.ts'

export async function musterAt(
  ledger: Ledger,
  { version, now }: { readonly version: number | undefined; readonly now: Instant },
): Promise<MusterAnswerShape> {
  const [settings, points, ratings, kept, versions] = await Promise.all([
    readSettings(ledger),
    listPoints(ledger),
    readRatings(ledger),
    readMusterFigures(ledger, version),
    listMusterVersions(ledger),
  ])
  const { zone } = settings
  const figures = kept?.figures ?? USUAL_MUSTER
  const running = nightOf(now, zone)
  const [from, to] = [nightsOn(running, -figures.nights), nightsOn(running, -1)]
  const read = await readPointNights(ledger, { from, to, species: SPECIES, zone })
  const loads = loadsOf(points, { read, ratings })
  const today = toStationTime(now, zone).slice(0, 10) as NightDate
  const answer = musterFromFigures(seenAt(points, { loads, settings }), {
    figures,
    ratings: ratings.cattle,
    today,
  })
  const told = (one: MusterVersion) => versionOf(one, zone)
  return {
    station: settings.name,
    now: toStationTime(now, zone),
    today,
    version: kept && told(kept),
    standing: versions[0]?.version ?? 0,
    versions: versions.map(told),
    figures: figures as MusterAnswerShape['figures'],
    from,
    to,
    points: points.map((point) => pointOf(point, cattleAt(loads, point.id))),
    ...numbersOf(answer),
  }
}

type Loads = ReadonlyMap<Species, ReadonlyMap<number, PointLoad>>

function loadsOf(
  points: readonly PointRow[],
  { read, ratings }: { readonly read: NightsOfSpecies; readonly ratings: AllRatings },
): Loads {
  return new Map(
    SPECIES.map((species) => {
      const loads = pointLoads(
        points.map(({ id }) => ({ pointId: id, nights: read(species, id) })),
        ratings[species],
      )
      return [species, new Map(loads.map((load) => [load.pointId, load]))]
    }),
  )
}

const cattleAt = (loads: Loads, pointId: number) => loads.get('cattle')!.get(pointId)!

function seenAt(
  points: readonly PointRow[],
  { loads, settings }: { readonly loads: Loads; readonly settings: Settings },
): SeenAtPoint[] {
  return points.map(({ id, has_yard }) => {
    // Species that nobody saw at the point would widen the range by animals that are not there.
    const sheepOf = (role: Role) =>
      SPECIES.filter((species) => species !== 'cattle' && settings.roles[species] === role)
        .map((species) => loads.get(species)!.get(id)!)
        .filter(({ totals }) => totals.visits > 0)
        .map(({ load }) => load!.drySheepEquivalents)
        .reduce(plus, NONE)
    const { load: cattle, totals } = cattleAt(loads, id)
    return {
      pointId: id,
      hasYard: has_yard,
      cattle,
      largestGroup: totals.largestPeak,
      otherStockSheep: cattle && sheepOf('stock'),
      feralSheep: cattle && sheepOf('feral'),
    }
  })
}

const NONE: RateInterval = { low: 0, rate: 0, high: 0 }

function pointOf(
  { id, name, has_yard }: PointRow,
  { totals, load }: PointLoad,
): MusterAnswerShape['points'][number] {
  return {
    pointId: id,
    name,
    hasYard: has_yard,
    watchedNights: rounded(totals.watchedNights),
    visits: totals.visits,
    largest: totals.largestPeak,
    head: load && interval(load.head),
  }
}

function numbersOf({
  plan,
  steps,
  ...rest
}: MusterAnswer): Pick<MusterAnswerShape, 'plan' | 'notMustered' | 'feed' | 'feedNotTold'> {
  const sumOf = (end: 'low' | 'expected' | 'high') => steps.reduce((sum, { loads }) => sum + loads[end], 0)
  return {
    plan: {
      ...plan,
      head: interval(plan.head),
      loads: { low: sumOf('low'), expected: sumOf('expected'), high: sumOf('high') },
      steps: steps.map(({ days, offWater, ...step }) => ({
        pointId: step.pointId,
        head: interval(step.head),
        fixedYard: step.fixedYard,
        km: rounded(step.km),
        decks: days.decks,
        loads: step.loads,
        set: days.set,
        muster: days.muster,
        trucks: days.trucks,
        hoursOffWater: offWater && {
          firstLoad: rounded(offWater.firstLoad),
          lastLoad: rounded(offWater.lastLoad),
        },
        overMostHours: step.overMostHours,
        hoursALoad: rounded(step.hoursALoad),
        tooLongADay: step.tooLongADay,
        leftBehind: interval(step.leftBehind),
      })),
    },
    notMustered: [...rest.notMustered],
    feed: rest.feed.map((feed) => ({
      ...feed,
      days: feedDays(feed.days),
      daysWithoutFeral: feedDays(feed.daysWithoutFeral),
      carries: { low: rounded(feed.carries.low), high: rounded(feed.carries.high) },
    })),
    feedNotTold: [...rest.feedNotTold],
  }
}

const interval = ({ low, rate, high }: RateInterval) => ({
  low: rounded(low),
  rate: rounded(rate),
  high: rounded(high),
})

function feedDays({ low, middle, high }: { low: number | null; middle: number | null; high: number | null }) {
  const told = (days: number | null) => (days === null ? null : rounded(days))
  return { low: told(low), middle: told(middle), high: told(high) }
}

const versionOf = ({ version, at, who, note }: MusterVersion, zone: Zone) => ({
  version,
  at: toStationTime(at, zone),
  who,
  note,
})
