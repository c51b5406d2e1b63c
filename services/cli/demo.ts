/** `npm run demo`: the demo station with its recent past, made through the ordinary intake, newest first. */
import { mkdir, readdir, rm } from 'node:fs/promises'
import { type DemoConfig, readDemoConfig } from '../config.ts'
import { demoHeartbeats } from '../demo/heartbeats.ts'
import { makePast, type PastProgress } from '../demo/make-past.ts'
import { createStillMaker } from '../demo/make-still.ts'
import { readStillPool } from '../demo/pool.ts'
import { isDemoFolder, readPlan, type SavedPlan, writePlan } from '../demo/saved-plan.ts'
import { demoSchedule } from '../demo/schedule.ts'
import { setUpDemo } from '../demo/set-up.ts'
import { takeStill } from '../intake/receive-still.ts'
import { Refusal } from '../refusal.ts'
import { type Running, startService } from '../serve.ts'
import { findCameraByName, recordHeartbeat } from '../store/cameras.ts'
import { openEmbeddedPostgres } from '../store/embedded/open.ts'
import { folderRefusal } from '../store/embedded/refusals.ts'
import { readProgress } from '../store/progress.ts'
import type { Instant } from '../words.ts'
import { sayLine } from './say.ts'
import { sayAddress } from './serve.ts'
import { untilStopped } from './until-stopped.ts'

const HELP = `hooftally demo: the demo station with its recent past (npm run demo -- OPTIONS)

  --fresh       start over: forget the demo's data
  --nights N    how many nights of past to make (56)
  --port N      the port to listen on (8470)
  --data DIR    where the demo's data lie (data/demo in the project's folder)
  --host H      the address to listen on (127.0.0.1: this machine only)
  --seed N      another past (1)
  --now TIME    pretend that it is this time, such as 2026-11-25T06:10:00+10:30
`
const SAVE_EVERY_MS = 1_000
const SAY_EVERY_MS = 3_000

export async function runDemo(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readDemoConfig(args, process.env)
  if (config.fresh) await forget(config.dataFolder)
  const plan = await openPlan(config)
  const startedAt = Date.now()
  const beganAt = config.now ?? (startedAt as Instant)
  const now = () => (beganAt + (Date.now() - startedAt)) as Instant

  const making = startMaking(plan)
  const running = await startService(config, { log: sayLine, now, making: making.state })
  try {
    await setUpDemo(running.house.ledger, plan, running.house.defaultThresholds)
    await sayAddress(running, config.host)
    const made = making.run(running, config.dataFolder)
    return await untilStopped(running, async () => {
      making.stop()
      await made
    })
  } finally {
    await running.stop()
  }
}

/** The plan this folder was begun with, or a new one. Another seed or number of nights wants a fresh start. */
async function openPlan(config: DemoConfig): Promise<SavedPlan> {
  await mkdir(config.dataFolder, { recursive: true }).catch((fault: unknown) => {
    throw folderRefusal(fault, config.dataFolder)
  })
  const saved = await readPlan(config.dataFolder)
  if (saved === null) {
    await refuseForeignFolder(config.dataFolder)
    const plan = {
      seed: config.seed,
      nights: config.nights,
      now: config.now ?? (Date.now() as Instant),
      step: 0,
    }
    await writePlan(config.dataFolder, plan).catch((fault: unknown) => {
      throw folderRefusal(fault, config.dataFolder)
    })
    return plan
  }
  return saved
}

async function refuseForeignFolder(folder: string): Promise<void> {
  const names = await readdir(folder)
  if (names.length === 0 || (await isDemoFolder(folder))) return
  throw new Refusal({
    kind: 'conflict',
    detail: `${folder} holds files that are not a demo's.`,
    field: '--data',
    remedy: 'Give --data an empty folder, or leave it out.',
  })
}

/** Deletes a demo's data, and only a demo's: a station's folder is refused. A PostgreSQL left running there is stopped. */
async function forget(folder: string): Promise<void> {
  const names = await readdir(folder).catch((): string[] => [])
  if (names.length === 0) return
  await refuseForeignFolder(folder)
  if (names.includes('pg')) {
    const postgres = await openEmbeddedPostgres({ folder, log: () => undefined })
    await postgres.stop()
  }
  await rm(folder, { recursive: true, force: true })
}

interface Making {
  readonly state: () => { made: number; of: number } | null
  run(running: Running, folder: string): Promise<void>
  stop(): void
}

function startMaking(plan: SavedPlan): Making {
  let progress: PastProgress | null = null
  let stopping = false
  let over = false

  async function run({ house }: Running, folder: string): Promise<void> {
    const schedule = demoSchedule({ ...plan, pool: await readStillPool() })
    const heartbeats = demoHeartbeats(plan)
    const intake = { ledger: house.ledger, files: house.files, onReceived: house.queue.offer }
    const startedAt = Date.now()
    let savedAt = 0
    let saidAt = 0
    const past = await makePast({
      schedule,
      heartbeats,
      makeStill: createStillMaker(),
      alreadyMade: plan.step,
      shouldStop: () => stopping,
      async send(cameraName, bytes, fileName) {
        const camera = await findCameraByName(house.ledger, cameraName)
        await takeStill(intake, {
          camera,
          bytes,
          fileName,
          fileTime: null,
          senderAt: null,
          arrivedAt: house.now(),
        })
      },
      async heartbeat(cameraName, at) {
        const camera = await findCameraByName(house.ledger, cameraName)
        await recordHeartbeat(house.ledger, {
          cameraId: camera.id,
          pointId: camera.point_id,
          at,
          receivedAt: house.now(),
          batteryPercent: null,
          temperatureC: null,
          signalPercent: null,
          freeBytes: null,
        })
      },
      onProgress(now) {
        progress = now
        if (Date.now() - savedAt >= SAVE_EVERY_MS) {
          savedAt = Date.now()
          void writePlan(folder, { ...plan, step: now.step }).catch(() => undefined)
        }
        if (Date.now() - saidAt >= SAY_EVERY_MS) {
          saidAt = Date.now()
          void sayHowFar(house, now).catch(() => undefined)
        }
      },
    })
    await writePlan(folder, { ...plan, step: past.step })
    over = true
    if (stopping || plan.step >= past.step) return
    await sayWhenRead(house, { of: past.of, startedAt, stopped: () => stopping })
  }

  return {
    state: () => (over || progress === null ? null : { made: progress.made, of: progress.of }),
    run: (running, folder) =>
      run(running, folder).catch((fault: unknown) => {
        if (!stopping) sayLine(`The demo's past could not be made further: ${String(fault)}`)
      }),
    stop: () => {
      stopping = true
    },
  }
}

async function sayHowFar({ ledger }: Running['house'], { made, of }: PastProgress): Promise<void> {
  const { waiting } = await readProgress(ledger)
  sayLine(`The demo's past: ${made} of ${of} photos made, ${waiting} waiting to be read.`)
}

async function sayWhenRead(
  house: Running['house'],
  { of, startedAt, stopped }: { of: number; startedAt: number; stopped: () => boolean },
): Promise<void> {
  while (!stopped()) {
    const { waiting } = await readProgress(house.ledger)
    if (waiting === 0) {
      sayLine(`The whole past is in: ${of} photos in ${Math.round((Date.now() - startedAt) / 1000)} s.`)
      return
    }
    await new Promise((resolve) => setTimeout(resolve, 500))
  }
}
