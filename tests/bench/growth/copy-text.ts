/** Rows as the text that PostgreSQL's COPY takes: tabs between columns, \N for null (PostgreSQL manual, COPY). */

import { type CountedNight, sightingOf } from './counts.ts'
import type { MadeBox, MadeStill } from './history.ts'

export const COPIED = {
  stills: [
    'id',
    'camera_id',
    'point_id',
    'hash',
    'bytes',
    'format',
    'width',
    'height',
    'file_name',
    'taken_at',
    'taken_from',
    'clock_doubt',
    'night',
    'received_at',
    'state',
    'reason',
    'model_id',
    'flagged',
    'unsure',
    'feral',
    'checked',
  ],
  detections: ['still_id', 'species', 'score', 'runner_up', 'x0', 'y0', 'x1', 'y1', 'detector', 'namer'],
  checks: ['still_id', 'at', 'who', 'verdict', 'counts', 'seen'],
  sightings: ['still_id', 'species', 'point_id', 'taken_at', 'head', 'score'],
  visits: ['point_id', 'species', 'night', 'started_at', 'ended_at', 'peak', 'photos', 'best_still_id'],
  nights: ['point_id', 'night', 'species', 'visits', 'least', 'sum_of_peaks', 'photos'],
  effort: ['point_id', 'night', 'watched_seconds'],
  heartbeats: ['camera_id', 'at', 'received_at'],
} as const
export type CopiedTable = keyof typeof COPIED

/** Ids that the ledger gave; points and cameras are counted from 0 in the history. */
export interface Ids {
  readonly points: readonly number[]
  readonly cameras: readonly number[]
  readonly model: number
}

const NULL = '\\N'
const UPLOAD_MS = 90_000
const MS_TO_MORNING = 43_200_000
/** Six hexadecimal digits of a hash from elsewhere: hashes come in no order, which is what their index must bear. */
const HEX = Array.from({ length: 65_536 }, (_, value) => value.toString(16).padStart(4, '0'))
const HASH_REST = '0'.repeat(64 - 8 - 12)
/** Multiplicative hashing (Knuth 1973, The Art of Computer Programming 3, 6.4), from memory. */
const SPREAD = 2_654_435_761
const DETECTOR = '{0.91,0.01,0.02,0.01,0.01,0.03}'
const NAMER = '{0.94,0.02,0.01,0.01,0.01,0.01}'
const SEEN =
  '{"models":{"name":"made-up","version":"1","detectorSha256":"d","namerSha256":"n"},"thresholds":{},"tally":{}}'

const time = (ms: number) => new Date(ms).toISOString()
const row = (...columns: readonly (string | number)[]) => `${columns.join('\t')}\n`
const bool = (value: boolean) => (value ? 't' : 'f')

export function hashOf(id: number): string {
  const spread = Math.imul(id, SPREAD) >>> 0
  return HEX[spread >>> 16]! + HEX[spread & 0xffff]! + HASH_REST + String(id).padStart(12, '0')
}

export function stillText(still: MadeStill, ids: Ids): string {
  return row(
    still.id,
    ids.cameras[still.camera]!,
    ids.points[still.point]!,
    `\\\\x${hashOf(still.id)}`,
    48_000 + (still.id % 9_000),
    'jpeg',
    640,
    360,
    NULL,
    time(still.takenAt),
    'exif',
    still.clockInDoubt ? 'the clock shows a date before the camera was put up' : NULL,
    still.night,
    time(still.takenAt + UPLOAD_MS),
    still.unreadable ? 'unreadable' : 'done',
    still.unreadable ? 'the picture is cut short' : NULL,
    still.unreadable ? NULL : ids.model,
    bool(still.flagged),
    bool(still.unsure),
    bool(still.feral),
    bool(still.check !== null),
  )
}

export function detectionText(stillId: number, { species, score, place }: MadeBox): string {
  const left = 10 + place * 150
  return row(stillId, species, score, 0.05, left, 120, left + 120, 210, DETECTOR, NAMER)
}

export function checkText({ id, takenAt, check, species, head }: MadeStill): string {
  const counts = species === null ? '{}' : `{"${species}":${head}}`
  return row(id, time(takenAt + MS_TO_MORNING), 'manager', check!, counts, SEEN)
}

export function sightingText(still: MadeStill, ids: Ids): string {
  const sighting = sightingOf(still)
  if (sighting === null) return ''
  const { at, head, score } = sighting
  return row(still.id, still.species!, ids.points[still.point]!, time(at), head, score)
}

export function visitTexts({ point, species, visits }: CountedNight, night: string, ids: Ids): string {
  return visits
    .map((visit) =>
      row(
        ids.points[point]!,
        species,
        night,
        time(visit.startedAt),
        time(visit.endedAt),
        visit.peak,
        visit.photos,
        visit.bestStillId,
      ),
    )
    .join('')
}

export function nightText(counted: CountedNight, night: string, ids: Ids): string {
  const { point, species, visits, least, sumOfPeaks, photos } = counted
  return row(ids.points[point]!, night, species, visits.length, least, sumOfPeaks, photos)
}
