/** From the ledger's rows to the API's shapes: times become station time, columns become words. */

import type { Selectable } from 'kysely'
import { kilometresBetween } from '../planning/distance.ts'
import { toStationTime } from '../station-time.ts'
import type { CameraWithSince } from '../store/cameras.ts'
import type { CheckRow } from '../store/check-rows.ts'
import { toInstant } from '../store/instants.ts'
import type { PointStateRow } from '../store/point-states.ts'
import type { PointRow } from '../store/points.ts'
import type { RerunView } from '../store/reruns.ts'
import type { Settings } from '../store/settings.ts'
import { toJudgedBox } from '../store/sightings.ts'
import type { StillView } from '../store/still-views.ts'
import type { DetectionsTable } from '../store/tables.ts'
import type { VisitView } from '../store/visit-views.ts'
import { judgeStill } from '../tally/judge.ts'
import { type Instant, SPECIES, type Zone } from '../words.ts'
import type { Camera, Check, Point, Rerun, Station, Still, Visit } from './shapes.ts'

const MS_PER_HOUR = 3_600_000

export function stationTime(date: Date, zone: Zone): string {
  return toStationTime(toInstant(date), zone)
}

export function stationAnswerOf(settings: Settings): Station {
  return {
    name: settings.name,
    zone: settings.zone,
    homestead: settings.homestead,
    visitGapMinutes: settings.visitGapMinutes,
    cattleAwayHours: settings.cattleAwayHours,
    demo: settings.demo,
    species: SPECIES.map((species) => ({
      species,
      role: settings.roles[species],
      countThreshold: settings.thresholds[species].count,
      flagThreshold: settings.thresholds[species].flag,
    })),
  }
}

export function pointOf(row: PointRow, settings: Settings): Point {
  return {
    id: row.id,
    name: row.name,
    kind: row.kind,
    lat: row.lat,
    lon: row.lon,
    hasYard: row.has_yard,
    runOrder: row.run_order,
    km: Math.round(kilometresBetween(settings.homestead, row) * 10) / 10,
    lowMarkPercent: row.low_mark_percent,
    dryMarkPercent: row.dry_mark_percent,
  }
}

export function cameraOf(row: CameraWithSince, settings: Settings, now: Instant): Camera {
  return {
    id: row.id,
    name: row.name,
    pointId: row.point_id,
    zone: row.zone,
    clockErrorSeconds: row.clock_error_seconds,
    expectedSilenceHours: row.expected_silence_hours,
    sendsHeartbeats: row.sends_heartbeats,
    scheduleMinutes: row.schedule_minutes,
    searchTiles: row.search_tiles,
    keyHint: row.key_hint,
    since: row.since && stationTime(row.since, settings.zone),
    lastContactAt: row.last_contact_at && stationTime(row.last_contact_at, settings.zone),
    up: row.is_up,
    down: row.is_up && isDown(row.last_contact_at, row.expected_silence_hours, now),
    photos: row.stills,
    unreadable: row.unreadable,
  }
}

/** A camera that spoke once and has been silent for longer than is expected of it. */
export function isDown(lastContactAt: Date | null, expectedSilenceHours: number, now: Instant): boolean {
  return lastContactAt !== null && now - lastContactAt.getTime() > expectedSilenceHours * MS_PER_HOUR
}

export function checkOf(row: CheckRow, zone: Zone): Check {
  return {
    id: row.id,
    at: stationTime(row.at, zone),
    who: row.who,
    verdict: row.verdict,
    counts: row.counts,
    marks: [...row.marks],
    others: row.others,
    boxes: row.boxes.map(({ species, box }) => ({ species, box: [...box] })),
  }
}

export function smallUrl(stillId: number): string {
  return `/api/stills/${stillId}/small`
}

/** A box worth a look. What is counted is of one of the five, whatever else it might be. */
function boxesShown(row: Selectable<DetectionsTable>, { thresholds }: Settings): Still['boxes'] {
  const { species, score, box } = toJudgedBox(row)
  const { count, flag } = thresholds[species]
  const counted = score >= count
  if (score < flag && row.own_kind === null) return []
  const ownKind = counted || row.own_kind === null ? {} : { ownKind: row.own_kind }
  return [{ species, score, box: [...box], counted, ...ownKind }]
}

export function stillOf(view: StillView, settings: Settings): Still {
  const { still, detections, lastCheck } = view
  const boxes = detections.map(toJudgedBox)
  const judged = judgeStill({ found: boxes, thresholds: settings.thresholds, feral: settings.feral })
  const check = lastCheck === null || lastCheck.verdict === 'withdrawn' ? null : lastCheck
  return {
    id: still.id,
    pointId: still.point_id,
    pointName: still.point_name,
    cameraId: still.camera_id,
    cameraName: still.camera_name,
    takenAt: stationTime(still.taken_at, settings.zone),
    takenFrom: still.taken_from,
    clockDoubt: still.clock_doubt,
    receivedAt: stationTime(still.received_at, settings.zone),
    night: still.night,
    state: still.state,
    reason: still.reason,
    width: still.width,
    height: still.height,
    flagged: still.flagged,
    unsure: still.unsure,
    tally: check?.counts ?? judged.tally,
    machineTally: judged.tally,
    boxes: detections.flatMap((row) => boxesShown(row, settings)),
    check: check && checkOf(check, settings.zone),
    kept: still.kept,
    smallUrl: smallUrl(still.id),
    fullUrl: `/api/stills/${still.id}/full`,
  }
}

export function visitOf(row: VisitView, settings: Settings): Visit {
  return {
    id: row.id,
    pointId: row.point_id,
    pointName: row.point_name,
    species: row.species,
    role: settings.roles[row.species],
    night: row.night,
    startedAt: stationTime(row.started_at, settings.zone),
    endedAt: stationTime(row.ended_at, settings.zone),
    peak: row.peak,
    photos: row.photos,
    bestStillId: row.best_still_id,
    bestSmallUrl: smallUrl(row.best_still_id),
  }
}

export function rerunOf(row: RerunView, zone: Zone): Rerun {
  return {
    id: row.id,
    state: row.state,
    madeAt: stationTime(row.made_at, zone),
    from: row.from_night,
    to: row.to_night,
    pointIds: row.point_ids === null ? null : [...row.point_ids],
    cameraIds: row.camera_ids === null ? null : [...row.camera_ids],
    unreadableToo: row.unreadable_too,
    namesOnly: row.names_only,
    models: { name: row.model_name, version: row.model_version, stationNamer: row.station_namer },
    total: row.total,
    done: row.done,
    failed: row.failed,
    lastError: row.last_error,
    failures: [...row.failures],
  }
}

export function stateOf(row: PointStateRow, zone: Zone) {
  return {
    id: row.id,
    kind: row.kind,
    at: stationTime(row.at, zone),
    source: row.source,
    levelPercent: row.level_percent,
    note: row.note,
  }
}
