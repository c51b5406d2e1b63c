/** When to set the gates at some points: hours by the bound on cattle, or a person's, the days, and the sky beside them. */
import { chosenHours, type GateAnswer, type GateGiven, gateWindow } from '../planning/gate-window.ts'
import { nightSky } from '../planning/night-sky.ts'
import { type SetDay, setDays } from '../planning/set-days.ts'
import { animalVisitsTogether } from '../planning/waters-together.ts'
import { Refusal } from '../refusal.ts'
import { toStationTime } from '../station-time.ts'
import type { Ledger } from '../store/open.ts'
import { listPoints, type PointRow } from '../store/points.ts'
import { readSettings } from '../store/settings.ts'
import { readYardSightings, type YardSightings } from '../store/yard-sightings.ts'
import { readYardMeans } from '../store/yard-words.ts'
import { clockAngle } from '../tally/clock-angle.ts'
import { dispersionOf } from '../tally/dispersion.ts'
import { nightsOn } from '../tally/nights.ts'
import type { NightOfTwo } from '../tally/overlap.ts'
import { totalOf } from '../tally/spell-totals.ts'
import { whenTheyCome } from '../tally/when-they-come.ts'
import type { Instant, NightDate, Species, Zone } from '../words.ts'
import { rounded } from './rounded.ts'
import type { GateHoursAnswer } from './trap-yard-shapes.ts'
import { roundedInterval } from './trap-yards-answer.ts'
import { nightsLookedAt, nightsOfSpecies } from './yard-facts.ts'

/** The same nights give the same interval, whoever asks. */
const SEED = 1

export interface HoursAsked {
  readonly species: Species
  readonly points: readonly number[]
  readonly cattleShare: number
  readonly mostHours: number
  /** A person's, in place of those worked out. */
  readonly chosen: { readonly from: number; readonly to: number } | null
  /** The first day; unless given, tomorrow. */
  readonly first: NightDate | undefined
  /** Unless given, as the owner set. */
  readonly nights: number | undefined
  readonly now: Instant
}

export async function gateHoursOf(ledger: Ledger, asked: HoursAsked): Promise<GateHoursAnswer> {
  const { zone } = await readSettings(ledger)
  const lookedAt = nightsLookedAt(asked.now, zone)
  const [points, sightings, means] = await Promise.all([
    pointsAsked(ledger, asked.points),
    readYardSightings(ledger, { species: [asked.species, 'cattle'], ...lookedAt }),
    readYardMeans(ledger),
  ])
  const given = gateGiven(sightings, { ...asked, zone })
  const answer = asked.chosen === null ? gateWindow(given, asked) : chosenHours(given, asked.chosen)
  const first = asked.first ?? nightsOn(toStationTime(asked.now, zone).slice(0, 10) as NightDate, 1)
  const hours = asked.chosen ?? (answer.kind === 'window' ? answer : null)
  const days = hours === null ? [] : setDays(hours, { first, days: asked.nights ?? means.nightsSet, zone })
  const curve = (of: 'one' | 'other') =>
    whenTheyCome(given.nights.flatMap((night) => night[of]))?.shareAnHour.map(rounded) ?? null
  return {
    species: asked.species,
    pointIds: [...asked.points],
    lookedAt,
    cattleShare: asked.cattleShare,
    mostHours: asked.mostHours,
    byHand: asked.chosen !== null,
    answer: answerOf(answer),
    curves: { target: curve('one'), cattle: curve('other') },
    days: days.map((day) => dayOf(day, { points, zone })),
    visits: days.reduce((sum, { visits }) => sum + visits, 0) * points.length,
  }
}

async function pointsAsked(ledger: Ledger, ids: readonly number[]): Promise<PointRow[]> {
  const points = (await listPoints(ledger)).filter(({ id }) => ids.includes(id))
  const missing = ids.find((id) => !points.some((point) => point.id === id))
  if (missing === undefined) return points
  throw new Refusal({
    kind: 'not found',
    detail: `There is no point ${missing}.`,
    field: 'points',
    remedy: 'Choose from the points that Trap yards shows.',
  })
}

/** Nights of all these waters together: a night counts once, as soon as one of them was watched. */
function gateGiven(
  sightings: YardSightings,
  { species, points, zone }: Pick<HoursAsked, 'species' | 'points'> & { readonly zone: Zone },
): GateGiven {
  const here = (pointId: number) => points.includes(pointId)
  const watched = new Set(
    sightings.effort
      .filter(({ pointId }) => here(pointId))
      .map(({ pointId, night }) => `${pointId} ${night}`),
  )
  const nights = new Map<NightDate, { one: number[]; other: number[] }>()
  for (const { pointId, night } of sightings.effort)
    if (here(pointId)) nights.set(night, { one: [], other: [] })
  for (const visit of sightings.visits) {
    if (!watched.has(`${visit.pointId} ${visit.night}`)) continue
    const angle = clockAngle(visit.startedAt, zone)
    if (visit.species === species) nights.get(visit.night)?.one.push(angle)
    if (visit.species === 'cattle') nights.get(visit.night)?.other.push(angle)
  }
  return {
    nights: [...nights.values()] satisfies NightOfTwo[],
    cattleANight: cattleOf(sightings, { points, zone }),
    seed: SEED,
  }
}

function cattleOf(
  sightings: YardSightings,
  { points, zone }: { readonly points: readonly number[]; readonly zone: Zone },
) {
  const nights = nightsOfSpecies(sightings, { species: 'cattle', zone })
  const totals = points.map((id) => totalOf(nights(id)))
  const visits = totals.reduce((sum, total) => sum + total.visits, 0)
  const animals = totals.reduce((sum, { animalVisits }) => sum + animalVisits, 0)
  const dispersion = dispersionOf(
    points.flatMap((pointId) =>
      nights(pointId).map(({ night, watched, peaks }) => ({ pointId, night, watched, visits: peaks.length })),
    ),
  )
  return animalVisitsTogether(totals, {
    meanPeak: visits === 0 ? null : animals / visits,
    dispersion: dispersion?.factor ?? 1,
  })
}

function answerOf(answer: GateAnswer): GateHoursAnswer['answer'] {
  if (answer.kind !== 'window') return answer
  const share = ({ share: of, interval, visits }: NonNullable<typeof answer.cattle>) => ({
    share: rounded(of),
    interval: interval && { low: rounded(interval.low), high: rounded(interval.high) },
    visits,
  })
  return {
    ...answer,
    target: share(answer.target),
    cattle: answer.cattle && share(answer.cattle),
    cattleHeadANight: answer.cattleHeadANight && roundedInterval(answer.cattleHeadANight),
  }
}

function dayOf(
  { on, setAt, shutAt, visits }: SetDay,
  { points, zone }: { readonly points: readonly PointRow[]; readonly zone: Zone },
): GateHoursAnswer['days'][number] {
  const middle = (of: (point: PointRow) => number) =>
    points.reduce((sum, point) => sum + of(point), 0) / points.length
  // The sky of all of them is that over their middle: over a station it differs by minutes.
  const sky = nightSky(on, { lat: middle(({ lat }) => lat), lon: middle(({ lon }) => lon) }, zone)
  const at = (instant: Instant | null) =>
    instant && toStationTime((Math.round(instant / 1000) * 1000) as Instant, zone)
  return {
    on,
    setAt: toStationTime(setAt, zone),
    shutAt: toStationTime(shutAt, zone),
    visits,
    sky: {
      lit: rounded(sky.lit),
      phase: sky.phase,
      sunset: at(sky.sunset),
      sunrise: at(sky.sunrise),
      moonrise: at(sky.moonrise),
      moonset: at(sky.moonset),
    },
  }
}
