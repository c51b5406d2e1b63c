/** Sends the demo's past through the ordinary intake, newest first, so that the view is alive while the rest fills in. */
import type { DemoHeartbeat } from './heartbeats.ts'
import type { DemoFile } from './make-still.ts'
import type { DemoStill } from './schedule.ts'
import { demoPoint } from './station.ts'

/** Each in hand holds a file and a database connection. */
const SENDING_AT_ONCE = 4

export interface PastProgress {
  /** Stills sent, those of earlier runs included. */
  readonly made: number
  /** Stills of the whole past. */
  readonly of: number
  /** Every step before this one is surely done: give it as `alreadyMade` to go on from here. */
  readonly step: number
}

export interface PastToMake {
  /** Newest first. */
  readonly schedule: readonly DemoStill[]
  /** Newest first. */
  readonly heartbeats: readonly DemoHeartbeat[]
  readonly makeStill: (still: DemoStill) => Promise<DemoFile>
  /** The ordinary intake; resolves when the still is in the ledger. */
  readonly send: (cameraName: string, bytes: Buffer, fileName: string) => Promise<unknown>
  readonly heartbeat: (cameraName: string, beat: DemoHeartbeat) => Promise<unknown>
  readonly onProgress: (progress: PastProgress) => void
  /** Asked before each step; what is in hand is finished. */
  readonly shouldStop: () => boolean
  /** `step` of an earlier run with the same seed and now, or 0. */
  readonly alreadyMade: number
}

/**
 * Makes the past, a few steps at once. A step done twice does no harm (the same bytes are the same still), so it may be
 * stopped anywhere and started again. @throws whatever `send` or `heartbeat` throws, once the steps in hand are over
 */
export async function makePast(past: PastToMake): Promise<PastProgress> {
  const steps = interleave(past)
  const done = steps.map((_, index) => index < past.alreadyMade)
  const of = past.schedule.length
  let made = steps.filter((step, index) => 'source' in step && done[index] === true).length
  let step = Math.min(past.alreadyMade, steps.length)
  let next = step
  let failed = false

  async function takeSteps(): Promise<void> {
    while (!failed && next < steps.length && !past.shouldStop()) {
      const index = next
      next += 1
      const one = steps[index]
      if (one === undefined) return
      try {
        await take(one, past)
      } catch (error) {
        failed = true
        throw error
      }
      done[index] = true
      if ('source' in one) made += 1
      while (done[step] === true) step += 1
      past.onProgress({ made, of, step })
    }
  }

  const lanes = await Promise.allSettled(Array.from({ length: SENDING_AT_ONCE }, takeSteps))
  const failure = lanes.find((lane) => lane.status === 'rejected')
  if (failure !== undefined) throw failure.reason
  return { made, of, step }
}

/** Newest first, stills and heartbeats together: what was watched is right as far back as what was seen. */
function interleave({ schedule, heartbeats }: PastToMake): readonly (DemoStill | DemoHeartbeat)[] {
  return [...schedule, ...heartbeats].sort((a, b) => b.at - a.at)
}

async function take(step: DemoStill | DemoHeartbeat, past: PastToMake): Promise<void> {
  const { camera } = demoPoint(step.pointKey)
  if (!('source' in step)) {
    await past.heartbeat(camera.name, step)
    return
  }
  const { bytes, fileName } = await past.makeStill(step)
  await past.send(camera.name, bytes, fileName)
}
