/** What a photo costs beside the look itself: recording its result, and its way through each queue. */
import { createHash } from 'node:crypto'
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { startBullmqQueue } from '../../services/queue/bullmq.ts'
import { startBullmqWorker } from '../../services/queue/bullmq-worker.ts'
import type { EyeProcess } from '../../services/queue/eye-process.ts'
import { startInProcessQueue } from '../../services/queue/in-process.ts'
import { openRecording } from '../../services/queue/process-still.ts'
import type { WaitingStill } from '../../services/queue/queue.ts'
import { addCamera } from '../../services/store/camera-setup.ts'
import { openEmbeddedPostgres } from '../../services/store/embedded/open.ts'
import { type Ledger, openLedger } from '../../services/store/open.ts'
import { addPoint } from '../../services/store/points.ts'
import { type NewStill, receiveStills } from '../../services/store/receive.ts'
import { saveSettings } from '../../services/store/settings.ts'
import { nightOf } from '../../services/tally/nights.ts'
import type { Instant, Zone } from '../../services/words.ts'
import { startRedis } from '../integration/redis-server.ts'
import { stubLook } from '../stub-look.ts'

const STILLS = 1_000
const WARM_UP = 200
const RECEIVED_AT_ONCE = 50
const MS_BETWEEN = 4 * 60_000
const IN_HAND = 4
const ZONE = 'Australia/Adelaide' as Zone
const MODELS = { name: 'made-up', version: '1', detectorSha256: 'd'.repeat(64), namerSha256: null }
const quiet = () => undefined

export async function benchQueue(): Promise<void> {
  console.log(`record: ${(await recordingMs()).toFixed(2)} ms a photo, one after the other, fsync on`)
  console.log(`queue: ${(await inProcessMs()).toFixed(3)} ms a photo through the list in memory`)
  console.log(
    `queue: ${(await redisMs()).toFixed(3)} ms a photo through Redis, to one worker, ${IN_HAND} in hand`,
  )
}

/** Mean time to record a result, of stills that lie 4 minutes apart at one point; up to three animals in each. */
async function recordingMs(): Promise<number> {
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-bench-'))
  await chmod(folder, 0o755)
  const postgres = await openEmbeddedPostgres({ folder, log: quiet })
  const ledger = await openLedger(postgres.url)
  try {
    const stills = await receiveMany(ledger, WARM_UP + STILLS)
    const recordLook = openRecording(ledger)
    let from = performance.now()
    for (const [number, { stillId, hash }] of stills.entries()) {
      if (number === WARM_UP) from = performance.now()
      await recordLook({ stillId, urgency: 'today' }, stubLook(hash, MODELS))
    }
    return (performance.now() - from) / STILLS
  } finally {
    await ledger.destroy()
    await postgres.stop()
    await rm(folder, { recursive: true, force: true })
  }
}

async function receiveMany(ledger: Ledger, count: number) {
  const station = { name: 'Bench', zone: ZONE, homestead: { lat: -28, lon: 134 }, visitGapMinutes: 30 }
  const species = (['cattle', 'camel', 'horse', 'donkey', 'goat'] as const).map((one) => ({
    species: one,
    role: one === 'cattle' ? ('stock' as const) : ('feral' as const),
  }))
  await saveSettings(ledger, { ...station, cattleAwayHours: 72, species }, { count: 0.5, flag: 0.3 })
  const { id: pointId } = await addPoint(ledger, {
    name: 'Bore',
    kind: 'bore',
    lat: -28,
    lon: 134,
    hasYard: false,
    runOrder: 1,
    lowMarkPercent: 40,
    dryMarkPercent: 5,
  })
  const watching = { zone: null, clockErrorSeconds: 0, expectedSilenceHours: 26, sendsHeartbeats: true }
  const { camera } = await addCamera(
    ledger,
    { ...watching, name: 'camera', pointId, scheduleMinutes: null },
    null,
  )
  const all = Array.from({ length: count }, (_, i): NewStill => {
    const takenAt = (Date.UTC(2026, 9, 1) + i * MS_BETWEEN) as Instant
    return {
      cameraId: camera.id,
      pointId,
      hash: createHash('sha256').update(`still ${i}`).digest(),
      bytes: 1,
      format: 'jpeg',
      width: 640,
      height: 360,
      fileName: null,
      takenAt,
      takenFrom: 'sender',
      clockDoubt: null,
      night: nightOf(takenAt, ZONE),
      receivedAt: takenAt,
      unreadableReason: null,
    }
  })
  const received: Array<{ stillId: number; hash: Buffer }> = []
  for (let from = 0; from < count; from += RECEIVED_AT_ONCE) {
    const some = all.slice(from, from + RECEIVED_AT_ONCE)
    for (const [i, still] of (await receiveStills(ledger, some)).entries())
      received.push({ stillId: still.id, hash: some[i]!.hash })
  }
  return received
}

/** Stills that wait, and the end of them. */
function madeUpLedger(count: number) {
  const waiting = new Set(Array.from({ length: count }, (_, i) => i + 1))
  let finish: () => void = quiet
  const finished = new Promise<void>((resolve) => {
    finish = resolve
  })
  return {
    finished,
    findWaiting: async ({ limit, except }: { limit: number; except: readonly number[] }) => {
      const known = new Set(except)
      return [...waiting]
        .filter((id) => !known.has(id))
        .slice(0, limit)
        .map((stillId): WaitingStill => ({ stillId, urgency: 'today' }))
    },
    done(stillId: number) {
      waiting.delete(stillId)
      if (waiting.size === 0) finish()
    },
  }
}

async function inProcessMs(): Promise<number> {
  const ledger = madeUpLedger(STILLS)
  const from = performance.now()
  const queue = startInProcessQueue(
    {
      log: quiet,
      findWaiting: ledger.findWaiting,
      process: async ({ stillId }) => ledger.done(stillId),
      giveUp: async () => undefined,
    },
    { inHandAtOnce: IN_HAND },
  )
  await ledger.finished
  const ms = (performance.now() - from) / STILLS
  await queue.stop()
  return ms
}

async function redisMs(): Promise<number> {
  const redis = await startRedis({ keeps: true })
  const ledger = madeUpLedger(STILLS)
  const place = { redisUrl: redis.url, queueName: 'bench' }
  const from = performance.now()
  const queue = startBullmqQueue(
    { log: quiet, findWaiting: ledger.findWaiting },
    { ...place, givenUp: () => 0 },
  )
  const worker = startBullmqWorker({
    ...place,
    log: quiet,
    eye: instantEye,
    station: {
      take: async () => ({ bytes: new Uint8Array() }),
      async record(looks) {
        for (const { still } of looks) ledger.done(still.stillId)
        return looks.map(() => 'recorded')
      },
    },
  })
  await ledger.finished
  const ms = (performance.now() - from) / STILLS
  await worker.stop()
  await queue.stop()
  await redis.remove()
  return ms
}

const instantEye: EyeProcess = {
  look: async () => stubLook(Buffer.alloc(32), MODELS),
  state: () => 'ready',
  restarts: () => 0,
  models: () => MODELS,
  plan: () => null,
  atOnce: () => IN_HAND,
  stop: async () => undefined,
}
