/** A made-up week of two points, for tests of words and of what is printed. */
import type {
  ComparedAnswer,
  PressureAnswer,
  PressurePoint,
  PressureRow,
} from '../../../services/http/pressure-shapes.ts'

export function comparedOf(change: Partial<ComparedAnswer> = {}): ComparedAnswer {
  return {
    visits: 13,
    watchedNights: 28,
    verdict: 'no clear change',
    ratio: 1,
    low: 0.5,
    high: 2,
    p: 1,
    correctedP: 1,
    ...change,
  }
}

export function weekRow(change: Partial<PressureRow> = {}): PressureRow {
  return {
    pointId: 1,
    species: 'camel',
    visits: 14,
    visitsNotWatched: 0,
    animalVisits: 60,
    largest: 7,
    firstAt: '2026-11-09T21:40:00+10:30',
    lastAt: '2026-11-16T04:10:00+10:30',
    visitsByNight: [2, 2, 2, 2, 2, 2, 2],
    leastByNight: [7, 3, 3, 3, 3, 3, 3],
    visitRate: { low: 109, rate: 200, high: 336 },
    animalRate: { low: 4, rate: 8.571, high: 16 },
    meanPeak: { head: 4, from: 'this point' },
    lastWeek: comparedOf({ visits: 4, watchedNights: 7 }),
    fourWeeks: comparedOf(),
    ranked: { rate: 150, ownShare: 0.7, place: 1 },
    load: {
      head: { low: 4, rate: 8.571, high: 16 },
      litresADay: { low: 80, rate: 257, high: 640 },
      drySheepEquivalents: { low: 28, rate: 81, high: 192 },
    },
    ...change,
  }
}

export function weekPoint(change: Partial<PressurePoint> = {}): PressurePoint {
  return {
    pointId: 1,
    name: 'Kite Bore',
    lat: -28.3,
    lon: 134.2,
    watchedByNight: [1, 1, 1, 1, 1, 1, 1],
    watchedNights: 7,
    lastWeekWatchedNights: 7,
    fourWeeksWatchedNights: 28,
    toCheck: 0,
    states: [],
    water: { feral: { low: 80, rate: 257, high: 640 }, stock: { low: 0, rate: 0, high: 0 } },
    ...change,
  }
}

export function weekOf(change: Partial<PressureAnswer> = {}): PressureAnswer {
  return {
    station: 'Test <Station>',
    now: '2026-11-25T06:10:00+10:30',
    week: '2026-W46',
    from: '2026-11-09',
    to: '2026-11-15',
    begins: '2026-11-09T12:00:00+10:30',
    ends: '2026-11-16T12:00:00+10:30',
    over: true,
    earlier: '2026-W45',
    later: '2026-W47',
    lastWeek: { from: '2026-11-02', to: '2026-11-08' },
    fourWeeks: { from: '2026-10-12', to: '2026-11-08' },
    nights: ['09', '10', '11', '12', '13', '14', '15'].map((day) => `2026-11-${day}`),
    watchedNights: 7,
    toCheck: 0,
    waiting: 0,
    species: [
      { species: 'cattle', role: 'stock', dispersion: 1, visits: 0, animalVisits: 0 },
      { species: 'camel', role: 'feral', dispersion: 1.3, visits: 14, animalVisits: 60 },
    ],
    points: [
      weekPoint(),
      weekPoint({
        pointId: 2,
        name: 'Old & Far Tank',
        watchedByNight: [0, 0, 0, 0, 0, 0, 0],
        watchedNights: 0,
        water: { feral: null, stock: null },
      }),
    ],
    rows: [weekRow()],
    ratings: [
      {
        species: 'camel',
        kind: 'litres',
        low: 20,
        high: 40,
        source: 'from memory, check locally',
        fromMemory: true,
        own: false,
      },
    ],
    ...change,
  }
}
