/** A program's target list as the API answers it, the sheet prints it and every export holds it. */
import type { Expectation } from '../planning/kept-target-list.ts'
import { type Driving, type Tour, tourInOrder, tourOf } from '../planning/tour.ts'
import type { Distances } from '../planning/track-distances.ts'
import { toBring } from '../planning/what-to-bring.ts'
import { toStationTime } from '../station-time.ts'
import { readAccess } from '../store/access-notes.ts'
import { readDriving, readTrackDistances } from '../store/driving.ts'
import { toInstant } from '../store/instants.ts'
import type { Ledger } from '../store/open.ts'
import { listPoints, type PointRow } from '../store/points.ts'
import { readRatings } from '../store/ratings.ts'
import { readSettings, type Settings } from '../store/settings.ts'
import type { BesideTargets } from '../store/target-facts.ts'
import type { Instant, Zone } from '../words.ts'
import { smallUrl } from './answers.ts'
import { accessOf, programOf } from './program-answers.ts'
import type { TargetLine, TargetListAnswer } from './program-shapes.ts'
import { rounded } from './rounded.ts'
import { besideList, type ListNow, targetListNow } from './target-list-now.ts'

const DAY_MS = 86_400_000
/** A track may still be soft so long after rain (common practice, no source). */
const RAIN_TOLD_DAYS = 14
/** Over more points nobody drives one round, and looking for a shorter one takes too long. */
const MOST_IN_A_ROUND = 60
/** Less is no shorter round on any track. */
const SHORTER_KM = 0.1

export async function targetListOf(
  ledger: Ledger,
  programId: number,
  now: Instant,
): Promise<TargetListAnswer> {
  const [settings, standing, points] = await Promise.all([
    readSettings(ledger),
    targetListNow(ledger, programId, now),
    listPoints(ledger),
  ])
  const { program, list } = standing
  const [beside, access, ratings, driving, table] = await Promise.all([
    besideList(ledger, standing, { now, pointIds: points.map(({ id }) => id) }),
    readAccess(ledger),
    readRatings(ledger),
    readDriving(ledger),
    readTrackDistances(ledger),
  ])
  const { zone } = settings
  const byId = new Map(points.map((point) => [point.id, point]))
  const lines = list.lines.map((line): TargetLine => {
    const point = byId.get(line.pointId)!
    const note = access.find(({ point_id }) => point_id === point.id)
    return {
      pointId: point.id,
      name: point.name,
      kind: point.kind,
      lat: point.lat,
      lon: point.lon,
      hasYard: point.has_yard,
      ranked: line.ranked,
      byHand: line.byHand,
      note: line.note,
      ...expectedOf(line.expected, zone),
      ...besideOf(point, { beside, program: standing.program, zone, now }),
      access: note === undefined ? null : accessOf(note, zone),
      bring: toBring(line.expected, { method: program.method, ratings: ratings[program.species] }),
    }
  })
  return {
    station: settings.name,
    now: toStationTime(now, zone),
    program: programOf(program, { zone, now }),
    version: standing.version,
    keptAt: standing.keptAt && toStationTime(toInstant(standing.keptAt), zone),
    nights: { from: list.nights.from, to: list.nights.to },
    lines,
    otherPoints: otherPoints(points, { standing, beside }),
    ...roundsOf(lines, { settings, table, driving }),
    driving,
    waiting: beside.waiting,
  }
}

export function expectedOf(expected: Expectation, zone: Zone) {
  const { head, bestHours } = expected
  return {
    head: head && { low: rounded(head.low), rate: rounded(head.rate), high: rounded(head.high) },
    nightsSeen: expected.nightsSeen,
    nightsWatched: expected.nightsWatched,
    largestGroup: expected.largestGroup,
    lastSeenAt: expected.lastSeenAt === null ? null : toStationTime(expected.lastSeenAt, zone),
    bestHours: bestHours && { from: bestHours.from, to: bestHours.to, hours: bestHours.hours },
  }
}

function besideOf(
  { id }: PointRow,
  {
    beside,
    program,
    zone,
    now,
  }: {
    readonly beside: BesideTargets
    readonly program: ListNow['program']
    readonly zone: Zone
    readonly now: Instant
  },
): Pick<TargetLine, 'lastNights' | 'rainAt' | 'others' | 'photo'> {
  const here = beside.came.filter(({ pointId }) => pointId === id)
  const rain = beside.rain.get(id)
  const photo = beside.photos.get(id)
  return {
    lastNights: [...(here.find(({ species }) => species === program.species)?.lastNights ?? [])],
    rainAt: rain !== undefined && now - rain <= RAIN_TOLD_DAYS * DAY_MS ? toStationTime(rain, zone) : null,
    others: here
      .filter(({ species }) => species !== program.species)
      .map(({ species, nights, largest }) => ({ species, nights, largest })),
    photo:
      photo === undefined
        ? null
        : {
            stillId: photo.stillId,
            takenAt: toStationTime(photo.takenAt, zone),
            smallUrl: smallUrl(photo.stillId),
          },
  }
}

function otherPoints(
  points: readonly PointRow[],
  { standing, beside }: { readonly standing: ListNow; readonly beside: BesideTargets },
): TargetListAnswer['otherPoints'] {
  const on = new Set(standing.list.lines.map(({ pointId }) => pointId))
  const seen = (pointId: number) =>
    beside.came.find((row) => row.pointId === pointId && row.species === standing.program.species)?.nights ??
    0
  return points
    .filter(({ id }) => !on.has(id))
    .map(({ id, name }) => ({
      pointId: id,
      name,
      nightsSeen: seen(id),
      nightsWatched: beside.watched.get(id) ?? 0,
    }))
}

function roundsOf(
  lines: readonly TargetLine[],
  {
    settings,
    table,
    driving,
  }: { readonly settings: Settings; readonly table: Distances['table']; readonly driving: Driving },
): Pick<TargetListAnswer, 'round' | 'shorter'> {
  const given: Distances = {
    home: settings.homestead,
    points: lines.map(({ pointId, lat, lon }) => ({ pointId, lat, lon })),
    table,
  }
  const order = lines.map(({ pointId }) => pointId)
  const round = tourInOrder(order, given, driving)
  const short = lines.length > MOST_IN_A_ROUND ? null : tourOf(given, driving)
  const shorter = short !== null && short.km < round.km - SHORTER_KM ? short : null
  return {
    round: roundOf(round),
    shorter: shorter && { ...roundOf(shorter), shortest: shorter.shortest },
  }
}

const roundOf = ({ order, legs, km, hours }: Omit<Tour, 'shortest'>) => ({
  order: [...order],
  legs: legs.map(({ from, to, km: long, straight }) => ({ from, to, km: rounded(long), straight })),
  km: rounded(km),
  hours: rounded(hours),
})
