/** Two workers with the real models against one API, beside the bare models on as many cores: what the way there and back costs. */
import { chmod, mkdtemp, readdir, readFile, rm } from 'node:fs/promises'
import { availableParallelism, tmpdir } from 'node:os'
import { join } from 'node:path'
import { randomFor } from '../../services/demo/random.ts'
import { builtFile, demoStillsFolder, modelsFolder } from '../../services/paths.ts'
import { openEmbeddedPostgres } from '../../services/store/embedded/open.ts'
import { freePort } from '../../services/store/embedded/start-stop.ts'
import { openLedger } from '../../services/store/open.ts'
import { readProgress } from '../../services/store/progress.ts'
import { readModels } from '../../worker/eye/manifest.ts'
import { keepProcess } from '../faults/household.ts'
import { startSending } from '../faults/senders.ts'
import { makeWorkerKey, setUpStation } from '../faults/station-to-kill.ts'
import { startRedis } from '../integration/redis-server.ts'
import { openBare } from './bare.ts'
import { childrenMs, postgresMs, processMs } from './processor-time.ts'
import { median, type Round, round } from './rounds.ts'

const WORKERS = 2
const ASK_EVERY_MS = 200
/** In turn with the bare models, so that what else the machine does falls on both alike; the median is taken. */
const ROUNDS = 3
/** In each round all photos go through so often; once before the clock starts, as models and code are cold at first. */
const TIMES = 3
const PLAN = { onnxThreads: 1, stillsInFlight: 2 }

/** Unless said, photos lie in a folder that all are given, as on one machine; with this workers ask the API for each. */
const OVER_API = '--over-api'

export async function benchWorkers(options: readonly string[]): Promise<void> {
  const sharesFolder = !options.includes(OVER_API)
  const names = (await readdir(demoStillsFolder)).filter((name) => name.endsWith('.jpg')).sort()
  const stills = await Promise.all(names.map((name) => readFile(join(demoStillsFolder, name))))
  const bare = await openBareModels(stills)
  const station = await openStationWithWorkers(stills, sharesFolder)
  const pairs: { workers: WorkersRound; bare: Round }[] = []
  try {
    let before = await bare.round()
    for (let i = 0; i < ROUNDS; i++) {
      const workers = await station.round()
      const after = await bare.round()
      pairs.push({ workers, bare: meanOf(before, after) })
      before = after
    }
  } finally {
    await Promise.all([bare.close(), station.close()])
  }
  const middle = (of: (pair: (typeof pairs)[number]) => number) => median(pairs.map(of))
  const ratios = pairs.map(({ workers, bare: beside }) => workers.stillsPerSecond / beside.stillsPerSecond)
  const parts = BESIDE_EYES.map(
    (name) => `${name} ${middle(({ workers }) => workers.cpuMs[name]).toFixed(1)}`,
  )
  const besideMs = middle(({ workers }) => BESIDE_EYES.reduce((sum, name) => sum + workers.cpuMs[name], 0))
  console.log(
    [
      `workers: ${ROUNDS} rounds of ${TIMES * stills.length} photos, ${WORKERS} workers of one core each against one API, ${availableParallelism()} cores; photos ${sharesFolder ? 'in a folder of theirs too' : 'from the API'}; medians`,
      `  workers        ${middle(({ workers }) => workers.stillsPerSecond).toFixed(2)} photos/s, recorded`,
      `  bare sessions  ${middle((pair) => pair.bare.stillsPerSecond).toFixed(2)} photos/s`,
      `  ratio          ${median(ratios).toFixed(3)} (${ratios.map((ratio) => ratio.toFixed(3)).join(', ')})`,
      `  core-ms        eyes ${middle(({ workers }) => workers.cpuMs.eyes).toFixed(1)} a photo (bare sessions ${middle((pair) => pair.bare.cpuMsPerStill).toFixed(1)}); beside them ${besideMs.toFixed(1)}: ${parts.join(', ')}`,
    ].join('\n'),
  )
}

const BESIDE_EYES = ['service', 'workers beside their eyes', 'PostgreSQL', 'Redis'] as const

interface WorkersRound {
  readonly stillsPerSecond: number
  /** Processor time a photo of each part of the house, in milliseconds. */
  readonly cpuMs: Readonly<Record<'eyes' | (typeof BESIDE_EYES)[number], number>>
}

function meanOf(a: Round, b: Round): Round {
  return {
    stillsPerSecond: (a.stillsPerSecond + b.stillsPerSecond) / 2,
    cpuMsPerStill: (a.cpuMsPerStill + b.cpuMsPerStill) / 2,
  }
}

async function openBareModels(stills: readonly Uint8Array[]) {
  const plan = {
    eyeThreads: WORKERS,
    onnxThreads: PLAN.onnxThreads,
    stillsInFlight: 2 * WORKERS,
    providers: ['cpu'],
  }
  const bare = await openBare({ models: await readModels(modelsFolder), run: plan, stills }, plan)
  const once = () => round(bare.run, stills.length, plan.stillsInFlight)
  await once()
  return { round: once, close: bare.close }
}

/**
 * A round lasts from the moment two workers, at work before, find photos that wait, to the last result recorded. Taking
 * photos in has a bench of its own: the workers are held while they come.
 */
async function openStationWithWorkers(stills: readonly Buffer[], sharesFolder: boolean) {
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-bench-'))
  await chmod(folder, 0o755)
  const postgres = await openEmbeddedPostgres({ folder: join(folder, 'database'), log: () => undefined })
  const redis = await startRedis()
  const port = await freePort()
  const api = `http://127.0.0.1:${port}`
  const shared = sharesFolder ? { STILLS_FOLDER: join(folder, 'stills') } : {}
  const service = keepProcess({
    name: 'service',
    file: builtFile('services/main.js'),
    args: ['serve', '--data', join(folder, 'station'), '--port', String(port)],
    environment: { DATABASE_URL: postgres.url, REDIS_URL: redis.url, ...shared },
    ready: /http:/,
  })
  await service.start()
  const ledger = await openLedger(postgres.url)
  const cameras = await setUpStation(api, 1 + ROUNDS * TIMES)
  const key = await makeWorkerKey(api)
  const workers = Array.from({ length: WORKERS }, (_, i) =>
    keepProcess({
      name: `worker ${i + 1}`,
      file: builtFile('services/main.js'),
      args: ['worker', '--api', api, '--name', `worker ${i + 1}`],
      environment: {
        HOOFTALLY_WORKER_KEY: key,
        ...shared,
        HOOFTALLY_EYE_THREADS: '1',
        HOOFTALLY_ONNX_THREADS: String(PLAN.onnxThreads),
        HOOFTALLY_STILLS_IN_FLIGHT: String(PLAN.stillsInFlight),
      },
      ready: /the eye works with/,
    }),
  )
  const close = async () => {
    await ledger.destroy()
    await Promise.all(workers.map((worker) => worker.stop()))
    await service.stop()
    await redis.remove()
    await postgres.stop()
    await rm(folder, { recursive: true, force: true })
  }
  const now = Date.now()
  let sentTimes = 0
  /** Sends all photos once more, of other cameras: the same bytes of the same camera would be the same photo. */
  const sendAll = async () => {
    const photos = stills.map((bytes, i) => ({
      bytes,
      camera: cameras[(i + sentTimes) % cameras.length]!,
      takenAt: new Date(now - i * 60_000),
    }))
    sentTimes += 1
    const sent = startSending(photos, { address: api, random: randomFor(sentTimes, 'bench'), lanes: 8 })
    sent.release(photos.length)
    await sent.over
  }
  const allDone = async () => {
    while ((await readProgress(ledger)).waiting > 0)
      await new Promise((next) => setTimeout(next, ASK_EVERY_MS))
  }
  const tellAll = (signal: NodeJS.Signals) => {
    for (const worker of workers) process.kill(worker.pid()!, signal)
  }
  const spent = async () => {
    const sum = async (ms: (pid: number) => Promise<number>) =>
      (await Promise.all(workers.map((worker) => ms(worker.pid()!)))).reduce((a, b) => a + b, 0)
    return {
      eyes: await sum(childrenMs),
      service: await processMs(service.pid()!),
      'workers beside their eyes': await sum(processMs),
      PostgreSQL: await postgresMs(join(folder, 'database')),
      Redis: await processMs(redis.pid()!),
    }
  }
  try {
    await Promise.all(workers.map((worker) => worker.start()))
    await sendAll()
    await allDone()
  } catch (fault) {
    await close()
    throw fault
  }
  return {
    close,
    async round(): Promise<WorkersRound> {
      tellAll('SIGSTOP')
      for (let time = 0; time < TIMES; time++) await sendAll()
      const { waiting: photos } = await readProgress(ledger)
      if (photos !== TIMES * stills.length) throw new Error(`${photos} photos wait, not ${TIMES} times all`)
      const before = await spent()
      const from = performance.now()
      tellAll('SIGCONT')
      await allDone()
      const seconds = (performance.now() - from) / 1000
      const after = await spent()
      const aPhoto = (part: keyof typeof after) => (after[part] - before[part]) / photos
      return {
        stillsPerSecond: photos / seconds,
        cpuMs: {
          eyes: aPhoto('eyes'),
          service: aPhoto('service'),
          'workers beside their eyes': aPhoto('workers beside their eyes'),
          PostgreSQL: aPhoto('PostgreSQL'),
          Redis: aPhoto('Redis'),
        },
      }
    },
  }
}
