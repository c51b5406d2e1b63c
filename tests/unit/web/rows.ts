/** Answers as the service gives them, for tests of words and of the desk: a quiet point, a plain photo, a card. */

import type { Check, CheckCard, Still, WaterRunAnswer, WaterRunRow } from '../../../services/http/shapes.ts'
import type { TrapAnswer } from '../../../services/http/trap-shapes.ts'

export const NOW = '2026-11-25T06:10:00+10:30'

/** A point where all is as it should be. */
export function rowOf(id: number, change: Partial<WaterRunRow> = {}): WaterRunRow {
  return {
    point: {
      id,
      name: `Point ${id}`,
      kind: 'bore',
      lat: -28,
      lon: 134,
      hasYard: false,
      runOrder: id,
      km: 5,
      lowMarkPercent: 40,
      dryMarkPercent: 5,
    },
    lastPhoto: null,
    lastContactAt: '2026-11-25T05:00:00+10:30',
    camera: 'watching',
    cattle: cattleOf({}),
    feral: [],
    watched: 1,
    toCheck: 0,
    water: { state: 'good', at: '2026-11-25T00:10:00+10:30', source: 'tap', levelPercent: null },
    trap: null,
    notFetched: [],
    batteries: [],
    unreadable: 0,
    unreadableRise: false,
    clockInDoubt: 0,
    cannotSee: [],
    ...change,
  }
}

/** Cattle that are in, at a point where nothing has been learned yet. */
export function cattleOf(change: Partial<WaterRunRow['cattle']>): WaterRunRow['cattle'] {
  return {
    lastSeenAt: '2026-11-25T05:30:00+10:30',
    stillId: 1,
    state: 'in',
    limit: { hours: 72, longestHours: 72, season: 'hot', learned: null, heldAt: null, normalUntil: null },
    because: null,
    hanging: null,
    ...change,
  }
}

export function answerOf(rows: WaterRunRow[]): WaterRunAnswer {
  return {
    now: NOW,
    night: '2026-11-24',
    nightFrom: '2026-11-24T12:00:00+10:30',
    nightTo: '2026-11-25T12:00:00+10:30',
    rows,
    room: 'well',
    progress: { waiting: 0, done: 0, unreadable: 0, making: null, again: null, recount: null },
  }
}

export function stillOf(id: number, change: Partial<Still> = {}): Still {
  const machineTally = change.machineTally ?? { camel: 3 }
  return {
    id,
    pointId: 1,
    pointName: 'Kite Bore',
    cameraId: 1,
    cameraName: 'Kite Bore 1',
    takenAt: '2026-11-24T21:40:00+10:30',
    takenFrom: 'exif',
    clockDoubt: null,
    receivedAt: NOW,
    night: '2026-11-24',
    state: 'done',
    reason: null,
    width: 1280,
    height: 720,
    flagged: true,
    unsure: false,
    tally: machineTally,
    machineTally,
    boxes: [],
    check: null,
    kept: 'whole',
    smallUrl: `/api/stills/${id}/small`,
    fullUrl: `/api/stills/${id}/full`,
    ...change,
  }
}

/** A word that stands on a photo. */
export function checkOf(change: Partial<Check> = {}): Check {
  return {
    id: 9,
    at: NOW,
    who: 'station',
    verdict: 'agreed',
    counts: {},
    marks: [],
    others: null,
    boxes: [],
    ...change,
  }
}

export function cardOf(stills: Still[]): CheckCard {
  const [best] = stills
  if (best === undefined) throw new Error('a card has at least one photo')
  return {
    key: String(best.id),
    pointId: 1,
    pointName: 'Kite Bore',
    night: '2026-11-24',
    startedAt: '2026-11-24T21:40:00+10:30',
    endedAt: '2026-11-24T22:15:00+10:30',
    why: 'feral',
    peaks: best.tally,
    best,
    stills,
    checked: false,
  }
}

/** A trap that is set and was visited at NOW. */
export function trapOf(change: Partial<TrapAnswer>): TrapAnswer {
  return {
    state: 'set',
    at: NOW,
    visitedAt: NOW,
    visitedBy: 'Ash',
    visitHours: 24,
    dueBy: '2026-11-26T06:10:00+10:30',
    overdue: false,
    held: null,
    ...change,
  }
}
