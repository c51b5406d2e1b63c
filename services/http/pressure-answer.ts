/** A week's grazing pressure as the API answers it, the report prints it and the CSV holds it. */
import { toStationTime } from '../station-time.ts'
import type { Ledger } from '../store/open.ts'
import { type NightAsked, type PressureFacts, readPressureFacts } from '../store/pressure.ts'
import { type AllRatings, readRatings } from '../store/ratings.ts'
import { readSettings, type Settings } from '../store/settings.ts'
import { DISPERSION_WEEKS } from '../tally/dispersion.ts'
import { knownUntil, watchedShare } from '../tally/effort.ts'
import { nightOf, nightSpell, nightsBetween } from '../tally/nights.ts'
import { weekAfter, weekName } from '../tally/week-name.ts'
import { speciesPressure } from '../tally/week-pressure.ts'
import { type WeekOfNights, weekBefore, weekOf } from '../tally/weeks.ts'
import { type Instant, SPECIES } from '../words.ts'
import { pointsWeeks } from './pressure-facts.ts'
import { rowsOf, waterOf } from './pressure-rows.ts'
import type { PressureAnswer, PressurePoint } from './pressure-shapes.ts'
import { ratingsOf } from './ratings-answer.ts'
import { rounded } from './rounded.ts'

const WEEKS_COMPARED = 4

export interface PressureAsked {
  /** Absent: the last week that is over. */
  readonly week: WeekOfNights | undefined
  readonly now: Instant
  /** Also the rows of species that were not seen at a point in the five weeks. */
  readonly everyRow?: boolean
}

export async function pressureOf(ledger: Ledger, asked: PressureAsked): Promise<PressureAnswer> {
  const settings = await readSettings(ledger)
  const { now } = asked
  const { zone } = settings
  const week = asked.week ?? weekBefore(weekOf(nightOf(now, zone)))
  const oldestCompared = weekAfter(week, -WEEKS_COMPARED)
  const { to: ends } = nightSpell(week.to, zone)
  const [facts, ratings] = await Promise.all([
    readPressureFacts(ledger, {
      asked: nightsAsked(week, settings),
      now,
      states: { from: nightSpell(oldestCompared.from, zone).from, to: ends },
    }),
    readRatings(ledger),
  ])
  const lastWeek = weekBefore(week)
  return {
    station: settings.name,
    now: toStationTime(now, zone),
    week: weekName(week),
    from: week.from,
    to: week.to,
    begins: toStationTime(nightSpell(week.from, zone).from, zone),
    ends: toStationTime(ends, zone),
    over: ends <= now,
    earlier: weekName(lastWeek),
    later: ends <= now ? weekName(weekAfter(week, 1)) : null,
    lastWeek: { from: lastWeek.from, to: lastWeek.to },
    fourWeeks: { from: oldestCompared.from, to: lastWeek.to },
    nights: nightsBetween(week.from, week.to),
    toCheck: [...facts.toCheck.values()].reduce((sum, photos) => sum + photos, 0),
    waiting: facts.waiting
      .filter(({ weeksBack }) => weeksBack === 0)
      .reduce((sum, { photos }) => sum + photos, 0),
    ratings: ratingsOf(ratings),
    ...numbersOf(facts, { settings, ratings, week, now, everyRow: asked.everyRow ?? false }),
  }
}

/** Eight weeks of nights, the week shown the last. */
export function nightsAsked(week: WeekOfNights, { zone }: Settings): NightAsked[] {
  return Array.from({ length: DISPERSION_WEEKS }, (_, weeksBack) => {
    const { from, to } = weekAfter(week, -weeksBack)
    return nightsBetween(from, to).map((night) => {
      const spell = nightSpell(night, zone)
      return { night, seconds: (spell.to - spell.from) / 1000, weeksBack }
    })
  }).flat()
}

interface Frame {
  readonly settings: Settings
  readonly ratings: AllRatings
  readonly week: WeekOfNights
  readonly now: Instant
  readonly everyRow: boolean
}

function numbersOf(
  facts: PressureFacts,
  frame: Frame,
): Pick<PressureAnswer, 'species' | 'points' | 'rows' | 'watchedNights'> {
  const { settings, ratings } = frame
  const pressures = SPECIES.map((species) =>
    speciesPressure(pointsWeeks(facts, species), {
      species,
      role: settings.roles[species],
      ratings: ratings[species],
      everyPoint: frame.everyRow,
    }),
  )
  const points = pointsOf(facts, frame).map((point) => ({
    ...point,
    water: waterOf(point, pressures),
  }))
  return {
    watchedNights: rounded(points.reduce((sum, point) => sum + point.watchedNights, 0)),
    species: pressures.map(({ species, role, dispersion, points: at }) => ({
      species,
      role,
      dispersion: dispersion && rounded(dispersion.factor),
      visits: at.reduce((sum, { totals }) => sum + totals.visits, 0),
      animalVisits: at.reduce((sum, { totals }) => sum + totals.animalVisits, 0),
    })),
    points,
    rows: rowsOf(facts, { pressures, ...frame }),
  }
}

function pointsOf(facts: PressureFacts, { settings, week, now }: Frame): Omit<PressurePoint, 'water'>[] {
  const nights = nightsBetween(week.from, week.to)
  const seconds = new Map(facts.effort.map((row) => [`${row.pointId} ${row.night}`, row.watchedSeconds]))
  const watched = new Map(facts.watched.map((row) => [`${row.pointId} ${row.weeksBack}`, row.watchedNights]))
  const watchedIn = (pointId: number, weeks: readonly number[]) =>
    rounded(weeks.reduce((sum, back) => sum + (watched.get(`${pointId} ${back}`) ?? 0), 0))
  return facts.points.map(({ id, name, lat, lon }) => {
    const known = knownUntil(
      facts.cameras.filter(({ pointId }) => pointId === id),
      now,
    )
    return {
      pointId: id,
      name,
      lat,
      lon,
      watchedByNight: nights.map((night) => {
        const share = watchedShare({
          watchedSeconds: seconds.get(`${id} ${night}`) ?? 0,
          night: nightSpell(night, settings.zone),
          knownUntil: known,
        })
        return share && rounded(share)
      }),
      watchedNights: watchedIn(id, [0]),
      lastWeekWatchedNights: watchedIn(id, [1]),
      fourWeeksWatchedNights: watchedIn(id, [1, 2, 3, 4]),
      toCheck: facts.toCheck.get(id) ?? 0,
      states: facts.states
        .filter(({ pointId }) => pointId === id)
        .map(({ kind, at }) => ({ kind, at: toStationTime(at, settings.zone) })),
    }
  })
}
