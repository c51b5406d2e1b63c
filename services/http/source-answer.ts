/** A camera's sources as the API tells of them. */
import { kindOf } from '../sources/kinds.ts'
import type { Tried as TriedNow } from '../sources/run-sources.ts'
import { toStationTime } from '../station-time.ts'
import { listAsideFiles } from '../store/dropped-files.ts'
import type { Ledger } from '../store/open.ts'
import type { SourceRow } from '../store/sources.ts'
import type { Zone } from '../words.ts'
import { smallUrl, stationTime } from './answers.ts'
import type { CameraSource, Tried } from './source-shapes.ts'

const ASIDE_SHOWN = 20

export async function sourceOf(ledger: Ledger, row: SourceRow, zone: Zone): Promise<CameraSource> {
  const aside = await listAsideFiles(ledger, row.id, ASIDE_SHOWN)
  return {
    id: row.id,
    cameraId: row.camera_id,
    kind: row.kind,
    isOn: row.is_on,
    settings: kindOf(row.kind).shown(row.settings),
    lastTryAt: row.last_try_at && stationTime(row.last_try_at, zone),
    lastOkAt: row.last_ok_at && stationTime(row.last_ok_at, zone),
    lastReason: row.last_reason,
    told: kindOf(row.kind).told?.(row.state) ?? null,
    failures: row.failures,
    nextAt: row.next_at && stationTime(row.next_at, zone),
    aside: aside.files.map(({ path, reason, at }) => ({ path, reason, at: stationTime(at, zone) })),
    asideFiles: aside.count,
  }
}

export function triedOf({ outcome, words, came }: TriedNow, zone: Zone): Tried {
  return {
    outcome,
    words,
    photos: came.map((still) => ({
      id: still.id,
      takenAt: toStationTime(still.takenAt, zone),
      clockDoubt: still.clockDoubt,
      reason: still.reason,
      known: still.known,
      smallUrl: smallUrl(still.id),
    })),
  }
}
