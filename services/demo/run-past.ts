/** Makes the demo's past in a running service, chapter by chapter, the newest first, and remembers how far it came. */
import type { House } from '../house.ts'
import { openIntakeDesk } from '../intake/desk.ts'
import { takeStill } from '../intake/receive-still.ts'
import { findCameraByName } from '../store/cameras.ts'
import { recordHeartbeat } from '../store/heartbeats.ts'
import type { Instant } from '../words.ts'
import { type DemoHeartbeat, demoHeartbeats } from './heartbeats.ts'
import { makePast, type PastProgress } from './make-past.ts'
import { createStillMaker } from './make-still.ts'
import { type PooledStill, readStillPool } from './pool.ts'
import { type Chapter, type SavedPlan, withStep, writePlan } from './saved-plan.ts'
import { demoSchedule } from './schedule.ts'

const SAVE_EVERY_MS = 1_000

export interface PastRun {
  readonly house: House
  readonly folder: string
  readonly plan: SavedPlan
  readonly onProgress: (progress: { readonly made: number; readonly of: number }) => void
  readonly shouldStop: () => boolean
}

/** Resolves when the whole past is sent, or once it should stop; what was done is saved either way. */
export async function runPast(run: PastRun): Promise<{ readonly made: number; readonly of: number }> {
  const pool = await readStillPool()
  const makeStill = createStillMaker()
  const drawn = run.plan.chapters.map((chapter) => drawChapter(chapter, run.plan.seed, pool))
  const of = drawn.reduce((sum, { schedule }) => sum + schedule.length, 0)
  let plan = run.plan
  let saving = Promise.resolve()
  let savedAt = 0
  const save = () => {
    savedAt = Date.now()
    saving = saving.then(() => writePlan(run.folder, plan)).catch(() => undefined)
  }
  let earlier = 0
  for (const index of [...drawn.keys()].reverse()) {
    const chapter = run.plan.chapters[index]!
    const { schedule, heartbeats } = drawn[index]!
    const past = await makePast({
      schedule,
      heartbeats,
      makeStill,
      alreadyMade: chapter.step,
      shouldStop: run.shouldStop,
      ...intakeOf(run.house),
      onProgress(progress: PastProgress) {
        plan = withStep(plan, index, progress.step)
        run.onProgress({ made: earlier + progress.made, of })
        if (Date.now() - savedAt >= SAVE_EVERY_MS) save()
      },
    })
    plan = withStep(plan, index, past.step)
    earlier += past.made
  }
  save()
  await saving
  return { made: earlier, of }
}

/** What a chapter of the past is made of: the same for the same plan. */
export function drawChapter({ now, nights, since }: Chapter, seed: number, pool: readonly PooledStill[]) {
  const isNew = ({ at }: { readonly at: Instant }) => since === null || at > since
  // A later chapter draws anew: with the first one's seed it would repeat the first one's days.
  const ownSeed = since === null ? seed : (seed + Math.floor(now / 1000)) % 2 ** 32
  return {
    schedule: demoSchedule({ now, nights, seed: ownSeed, pool }).filter(isNew),
    heartbeats: demoHeartbeats({ now, nights }).filter(isNew),
  }
}

/** The ordinary intake, as makePast calls it. */
function intakeOf({ ledger, files, queue, now }: House) {
  const intake = { desk: openIntakeDesk(ledger), files, onReceived: queue.offer }
  return {
    async send(cameraName: string, bytes: Buffer, fileName: string): Promise<void> {
      const camera = await findCameraByName(ledger, cameraName)
      await takeStill(intake, { camera, bytes, fileName, fileTime: null, senderAt: null, arrivedAt: now() })
    },
    async heartbeat(cameraName: string, { at, batteryPercent, freeBytes }: DemoHeartbeat): Promise<void> {
      const camera = await findCameraByName(ledger, cameraName)
      await recordHeartbeat(ledger, {
        cameraId: camera.id,
        pointId: camera.point_id,
        at,
        receivedAt: now(),
        batteryPercent,
        temperatureC: null,
        signalPercent: null,
        freeBytes,
      })
    },
  }
}
