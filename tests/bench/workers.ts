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
import { type Round, round } from './rounds.ts'

const WORKERS = 2
const ASK_EVERY_MS = 200
/** All photos go through once before the clock starts, then so often: models and code are cold at first, bare or not. */
const TIMES = 2
const PLAN = { onnxThreads: 1, stillsInFlight: 2 }

/** Unless said, photos lie in a folder that all are given, as on one machine; with this workers ask the API for each. */
const OVER_API = '--over-api'

export async function benchWorkers(options: readonly string[]): Promise<void> {
  const sharesFolder = !options.includes(OVER_API)
  const names = (await readdir(demoStillsFolder)).filter((name) => name.endsWith('.jpg')).sort()
  const stills = await Promise.all(names.map((name) => readFile(join(demoStillsFolder, name))))
  const before = await bareRound(stills)
  const workers = await workersRound(stills, sharesFolder)
  const after = await bareRound(stills)
  const bare = (before.stillsPerSecond + after.stillsPerSecond) / 2
  const bareMs = (before.cpuMsPerStill + after.cpuMsPerStill) / 2
  const { eyes, ...others } = workers.cpuMs
  const beside = Object.entries(others).map(([name, ms]) => `${name} ${ms.toFixed(1)}`)
  const besideMs = Object.values(others).reduce((sum, ms) => sum + ms, 0)
  console.log(
    [
      `workers: ${TIMES * stills.length} photos, ${WORKERS} workers of one core each against one API, ${availableParallelism()} cores; photos ${sharesFolder ? 'in a folder of theirs too' : 'from the API'}`,
      `  workers        ${workers.stillsPerSecond.toFixed(2)} photos/s, recorded`,
      `  bare sessions  ${bare.toFixed(2)} photos/s (${before.stillsPerSecond.toFixed(2)} before, ${after.stillsPerSecond.toFixed(2)} after)`,
      `  ratio          ${(workers.stillsPerSecond / bare).toFixed(3)}`,
      `  core-ms        eyes ${eyes.toFixed(1)} a photo (bare sessions ${bareMs.toFixed(1)}); beside them ${besideMs.toFixed(1)}: ${beside.join(', ')}`,
    ].join('\n'),
  )
}

async function bareRound(stills: readonly Uint8Array[]): Promise<Round> {
  const plan = {
    eyeThreads: WORKERS,
    onnxThreads: PLAN.onnxThreads,
    stillsInFlight: 2 * WORKERS,
    providers: ['cpu'],
  }
  const bare = await openBare({ models: await readModels(modelsFolder), run: plan, stills }, plan)
  await round(bare.run, stills.length, plan.stillsInFlight)
  const timed = await round(bare.run, stills.length, plan.stillsInFlight)
  await bare.close()
  return timed
}

/**
 * From the moment two workers, at work before, find photos that wait, to the last result recorded. Taking photos in has a
 * bench of its own: the workers are held while they come.
 */
async function workersRound(stills: readonly Buffer[], sharesFolder: boolean) {
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
  const cameras = await setUpStation(api)
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
  try {
    await Promise.all(workers.map((worker) => worker.start()))
    const now = Date.now()
    const sendAll = async (times: readonly number[]) => {
      const photos = times.flatMap((time) =>
        stills.map((bytes, i) => ({
          bytes,
          // The same bytes of the same camera would be the same photo.
          camera: cameras[(i + time) % cameras.length]!,
          takenAt: new Date(now - i * 60_000),
        })),
      )
      const sent = startSending(photos, { address: api, random: randomFor(times.length, 'bench'), lanes: 8 })
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
    await sendAll([0])
    await allDone()
    tellAll('SIGSTOP')
    await sendAll(Array.from({ length: TIMES }, (_, time) => 1 + time))
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
    const before = await spent()
    const from = performance.now()
    tellAll('SIGCONT')
    await allDone()
    const seconds = (performance.now() - from) / 1000
    const after = await spent()
    const photos = TIMES * stills.length
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
  } finally {
    await ledger.destroy()
    await Promise.all(workers.map((worker) => worker.stop()))
    await service.stop()
    await redis.remove()
    await postgres.stop()
    await rm(folder, { recursive: true, force: true })
  }
}
