/** From the ledger's rows to what is answered of times put right. */
import { Refusal } from '../refusal.ts'
import { parseInstant, toStationTime } from '../station-time.ts'
import { toInstant } from '../store/instants.ts'
import type { Ledger } from '../store/open.ts'
import { listPlacing, type PlacingView } from '../store/placing.ts'
import { type RunOfStills, runOfStills, type ShiftRun, viewRun } from '../store/shift-runs.ts'
import { findStill } from '../store/still-views.ts'
import type { ShiftView } from '../store/time-shifts.ts'
import { CLOCK_DRIFT_TOLERANCE_MINUTES } from '../tally/placing.ts'
import type { Instant, Zone } from '../words.ts'
import { stationTime } from './answers.ts'
import type { Shift, ShiftPreview } from './clock-shapes.ts'

const TOLERANCE_MS = CLOCK_DRIFT_TOLERANCE_MINUTES * 60_000

export function shiftOf(row: ShiftView, zone: Zone): Shift {
  return {
    id: row.id,
    cameraId: row.camera_id,
    cameraName: row.camera_name,
    stillId: row.still_id,
    fromSaid: stationTime(row.from_said, zone),
    toSaid: stationTime(row.to_said, zone),
    photos: row.photos,
    seconds: row.seconds,
    at: stationTime(row.at, zone),
    who: row.who,
    note: row.note,
    undone:
      row.undone_at === null || row.undone_by === null
        ? null
        : { at: stationTime(row.undone_at, zone), who: row.undone_by },
  }
}

export interface PlannedShift {
  readonly run: RunOfStills
  readonly seconds: number
  readonly preview: ShiftPreview
}

/**
 * What it would do to say that a photo was taken at another time, and its run as much earlier or later.
 * @throws Refusal when a photo of the run would lie in the future, or while the camera's photos are still on their way
 */
export async function planShift(
  ledger: Ledger,
  asked: { readonly stillId: number; readonly takenAt: string; readonly run: ShiftRun },
  { now, zone }: { readonly now: Instant; readonly zone: Zone },
): Promise<PlannedShift> {
  const { still } = await findStill(ledger, asked.stillId)
  const walk = (await listPlacing(ledger)).find(({ cameraId }) => cameraId === still.camera_id)
  if (walk !== undefined) throw underWay(walk, still.camera_name)
  const after = parseInstant(asked.takenAt)
  const seconds = (after - toInstant(still.taken_at)) / 1000
  const run = await runOfStills(ledger, still, asked.run)
  const { first, last, inDoubt, inDoubtAfter } = await viewRun(ledger, run, seconds)
  const moved = (at: Date) => toStationTime((toInstant(at) + seconds * 1000) as Instant, zone)
  const latest = toInstant(last.takenAt) + seconds * 1000
  if (latest > now + TOLERANCE_MS) {
    throw new Refusal({
      kind: 'bad input',
      detail: `The last of these ${run.photos} photos would be of ${moved(last.takenAt)}, which is still to come.`,
      field: 'takenAt',
      remedy: 'Look at the time again, or choose fewer photos.',
    })
  }
  const photo = (id: number, at: Date) => ({ stillId: id, before: stationTime(at, zone), after: moved(at) })
  return {
    run,
    seconds,
    preview: {
      run: asked.run,
      cameraName: still.camera_name,
      photos: run.photos,
      seconds,
      photo: photo(still.id, still.taken_at),
      first: photo(first.id, first.takenAt),
      last: photo(last.id, last.takenAt),
      inDoubt,
      inDoubtAfter,
    },
  }
}

/** Their times are of before and of after until the last of them is through. */
const underWay = ({ done, total }: PlacingView, camera: string) =>
  new Refusal({
    kind: 'conflict',
    detail: `Photos of ${camera} are still being put in their places (${done} of ${total}).`,
    field: 'stillId',
    remedy: 'Wait a moment and say it then.',
  })
