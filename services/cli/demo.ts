/** `npm run demo`: the demo station with its recent past, made through the ordinary intake, newest first. */
import { readdir, rm } from 'node:fs/promises'
import { type DemoConfig, readDemoConfig } from '../config/serve.ts'
import { lookBlindlyInDemo } from '../demo/blind-looks.ts'
import { tellOutcomesInDemo } from '../demo/outcomes.ts'
import { planProgramsInDemo } from '../demo/programs.ts'
import { runPast } from '../demo/run-past.ts'
import { caughtUp, firstPlan, isDemoFolder, readPlan, type SavedPlan, writePlan } from '../demo/saved-plan.ts'
import { setUpDemo } from '../demo/set-up.ts'
import { sayYardsInDemo } from '../demo/yards.ts'
import { Refusal } from '../refusal.ts'
import { type Running, startService } from '../serve.ts'
import { ensureFolder } from '../store/embedded/cluster.ts'
import { openEmbeddedPostgres } from '../store/embedded/open.ts'
import { folderRefusal } from '../store/embedded/refusals.ts'
import { readProgress } from '../store/progress.ts'
import type { Instant } from '../words.ts'
import { serviceLog } from './log.ts'
import { sayLine } from './say.ts'
import { sayAddress } from './serve.ts'
import { askedToStop, untilStopped } from './until-stopped.ts'

const HELP = `hooftally demo: the demo station with its recent past (npm run demo -- OPTIONS)

  --fresh       start over: forget the demo's data
  --nights N    how many nights of past to make (56)
  --port N      the port to listen on (8470)
  --data DIR    where the demo's data lie (data/demo in the project's folder)
  --host H      the address to listen on (127.0.0.1: this machine only)
  --seed N      another past (1)
  --now TIME    pretend that it is this time, such as 2026-11-25T06:10:00+10:30
`
const SAY_EVERY_MS = 3_000

export async function runDemo(args: readonly string[]): Promise<number> {
  if (args.includes('--help')) {
    process.stdout.write(HELP)
    return 0
  }
  const config = readDemoConfig(args, process.env)
  if (config.fresh) await forget(config.dataFolder)
  const asked = askedToStop()
  // A demo is always run for somebody to look at, also where its lines go into a file.
  const log = serviceLog({ forPeople: true })
  const startedAt = Date.now()
  const beganAt = config.now ?? (startedAt as Instant)
  const plan = await openPlan(config, beganAt)

  let making: { made: number; of: number } | null = null
  let stopping = false
  const running = await startService(config, {
    log,
    now: () => (beganAt + (Date.now() - startedAt)) as Instant,
    making: () => making,
  })
  try {
    for (const chapter of plan.chapters) {
      await setUpDemo(running.house.ledger, chapter, running.house.defaultThresholds)
    }
    await sayAddress(running, { host: config.host, log })
    let saidAt = 0
    const made = runPast({
      house: running.house,
      folder: config.dataFolder,
      plan,
      shouldStop: () => stopping,
      onProgress(progress) {
        making = progress
        if (Date.now() - saidAt < SAY_EVERY_MS) return
        saidAt = Date.now()
        void sayHowFar(running.house, progress).catch(() => undefined)
      },
    })
      .then(async ({ of }) => {
        const madeSomething = making !== null
        making = null
        if (madeSomething) {
          await sayWhenRead(running.house, { of, startedAt, stopped: () => stopping })
          await lookBlindlyInDemo(running.house, { plan, stopped: () => stopping })
        }
        // What was expected is told from the whole past.
        if (!stopping) await planProgramsInDemo(running.house, { plan })
        if (!stopping) await tellOutcomesInDemo(running.house, { plan })
        if (!stopping) await sayYardsInDemo(running.house)
      })
      .catch((fault: unknown) => {
        making = null
        if (!stopping) sayLine(`The demo's past could not be made further: ${String(fault)}`)
      })
    const code = await untilStopped(running, { asked, log })
    stopping = true
    await made
    return code
  } finally {
    await running.stop()
  }
}

/** The plan this folder was begun with, caught up to now, or a new one. Another seed or past wants a fresh start. */
async function openPlan(config: DemoConfig, now: Instant): Promise<SavedPlan> {
  const { dataFolder, seed, nights } = config
  try {
    await ensureFolder(dataFolder)
    const saved = await readPlan(dataFolder)
    if (saved === null) await refuseForeignFolder(dataFolder)
    const [first] = saved?.chapters ?? []
    if (saved !== null && first !== undefined && (saved.seed !== seed || first.nights !== nights)) {
      sayLine(
        `The demo goes on with the past it has (seed ${saved.seed}, ${first.nights} nights); --fresh starts another.`,
      )
    }
    const plan = saved === null ? firstPlan({ seed, nights, now }) : caughtUp(saved, now)
    await writePlan(dataFolder, plan)
    return plan
  } catch (fault) {
    throw folderRefusal(fault, dataFolder)
  }
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

async function sayHowFar(
  { ledger }: Running['house'],
  { made, of }: { made: number; of: number },
): Promise<void> {
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
