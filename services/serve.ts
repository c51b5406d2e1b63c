/** Runs the service: database, eye, queue, API and view under one command, and stops them in good order. */

import { once } from 'node:events'
import { createServer, type Server } from 'node:http'
import type { AddressInfo } from 'node:net'
import { setTimeout as wait } from 'node:timers/promises'
import { readModels } from '../worker/eye/manifest.ts'
import { loopbackOnly, type ServeConfig } from './config/serve.ts'
import { startDailyLimits } from './daily-limits.ts'
import { startDailyRetention } from './daily-retention.ts'
import type { House } from './house.ts'
import { createApp } from './http/app.ts'
import { openNews } from './http/news.ts'
import { openReceiving } from './http/receiving.ts'
import { watchRequests } from './http/watch-requests.ts'
import { openAllowance } from './intake/allowance.ts'
import { openIntakeDesk } from './intake/desk.ts'
import { logOfLines, type PlainLog } from './log.ts'
import { startLookingAfterCameras } from './look-after-cameras.ts'
import { startMail } from './mail/run-mail.ts'
import { openMetrics } from './metrics.ts'
import { modelsFolder } from './paths.ts'
import { startLearning } from './queue/learning.ts'
import { startPlacing } from './queue/placing.ts'
import { startRecounting } from './queue/recounting.ts'
import { startLooking } from './queue/start-looking.ts'
import { Refusal } from './refusal.ts'
import { openSources, SOURCES_EVERY_MS } from './sources/run-sources.ts'
import { openStationData } from './store/data-folder.ts'
import { presentModels } from './store/namer-in-use.ts'
import { listenForNotices } from './store/notices.ts'
import { stopRerunOfOtherModels } from './store/reruns.ts'
import { startWeeklyDraw } from './weekly-draw.ts'
import type { Instant } from './words.ts'

/** For requests in hand: a sender on a slow link keeps its photo and sends it again. */
const REQUESTS_PATIENCE_MS = 3_000
/** For everything that is in hand together; the database then still has its time before ten seconds are over. */
const STOP_PATIENCE_MS = 5_000
/** The largest photo at 20 KB a second; Node.js itself would end a photo of 3 MB at 10 KB a second. */
const WHOLE_REQUEST_MS = 1_800_000

export interface Running {
  readonly house: House
  readonly address: string
  /** Resolves with the reason when the service can't go on. */
  readonly lost: Promise<Refusal>
  stop(): Promise<void>
}

export interface ServeSurroundings {
  readonly log: PlainLog
  readonly now?: () => Instant
  readonly making?: House['making']
  /** Another eye than the models', for tests and benches: a built file. */
  readonly eyeEntry?: string
  /** How long a sender may bring hardly anything, for tests. */
  readonly senderPatienceMs?: number
}

export async function startService(config: ServeConfig, surroundings: ServeSurroundings): Promise<Running> {
  const log = logOfLines(surroundings.log)
  const metrics = openMetrics()
  const now = surroundings.now ?? (() => Date.now() as Instant)
  // Cheap checks first: a taken port or a changed model is said before a database is made.
  const server = await listen(config)
  try {
    const models = await readModels(config.modelsFolder ?? modelsFolder)
    const data = await openStationData({
      ...config,
      log,
    })
    await stopRerunOfOtherModels(data.ledger, await presentModels(data.ledger, models.identity))
    const receiving = openReceiving({
      limitBytes: config.receivingBytes,
      patienceMs: surroundings.senderPatienceMs,
    })
    const looking = await startLooking({
      config,
      ledger: data.ledger,
      files: data.files,
      log,
      metrics,
      inWriting: receiving.inWriting,
      eyeEntry: surroundings.eyeEntry,
    })
    const { queue, eye, workers } = looking
    const recounting = startRecounting(data.ledger, { log })
    const placing = startPlacing(data.ledger, { log })
    const learning = startLearning(data.ledger, { models: models.identity, now, log })
    const retention = startDailyRetention({ ledger: data.ledger, files: data.files, now, log })
    const draw = startWeeklyDraw({ ledger: data.ledger, now, log })
    const cameras = startLookingAfterCameras({ ledger: data.ledger, placing, now, log })
    const limits = startDailyLimits({ ledger: data.ledger, now, log })
    const allowance = openAllowance()
    const sources = openSources(
      {
        ledger: data.ledger,
        intake: { desk: openIntakeDesk(data.ledger), files: data.files, onReceived: queue.offer },
        allowance,
        room: data.room,
        metrics,
        now,
        log,
        dropRoots: config.dropRoots ?? [],
        cameraHosts: config.cameraHosts ?? [],
      },
      { everyMs: SOURCES_EVERY_MS },
    )
    const mail = startMail(sources.place)
    const news = openNews()
    const notices = listenForNotices(data.url, {
      onWake: () => queue.refill(),
      onChange: (change) => {
        news.publish(change)
        learning.wake()
      },
    })
    const house: House = {
      ledger: data.ledger,
      files: data.files,
      room: data.room,
      receiving,
      allowance,
      sources,
      queue,
      recounting,
      placing,
      learning,
      mail,
      news,
      eye,
      workers,
      models: models.identity,
      defaultThresholds: models.thresholds,
      now,
      log,
      metrics,
      making: surroundings.making ?? (() => null),
    }
    server.removeAllListeners('request')
    const requests = watchRequests({ metrics, log })
    server.on('request', createApp(house, { loopbackOnly: loopbackOnly(config.host), requests }))
    let stopped: Promise<void> | null = null
    const stop = async () => {
      server.close()
      server.closeIdleConnections()
      news.stop()
      const atRest = Promise.all([
        requests.stop(REQUESTS_PATIENCE_MS),
        notices.stop(),
        sources.stop(),
        recounting.stop(),
        placing.stop(),
        learning.stop(),
        mail.stop(),
        retention.stop(),
        limits.stop(),
        cameras.stop(),
        draw.stop(),
        looking.stop(),
      ])
      // What is still not done then is found again at the next start: the ledger knows what waits.
      await Promise.race([atRest, wait(STOP_PATIENCE_MS, undefined, { ref: false })])
      server.closeAllConnections()
      await data.close()
      metrics.registry.clear()
    }
    return {
      house,
      address: addressOf(server, config.host),
      lost: data.postgres?.lost ?? new Promise(() => undefined),
      stop: () => {
        stopped ??= stop()
        return stopped
      },
    }
  } catch (fault) {
    server.close()
    server.closeAllConnections()
    throw fault
  }
}

async function listen({ port, host }: ServeConfig): Promise<Server> {
  const server = createServer((_request, response) => {
    response
      .writeHead(503, { 'Retry-After': '5' })
      .end('Hooftally is starting. Try again in a few seconds.\n')
  })
  server.requestTimeout = WHOLE_REQUEST_MS
  server.listen(port, host)
  try {
    await once(server, 'listening')
    return server
  } catch (fault) {
    const code = fault instanceof Error && 'code' in fault ? String(fault.code) : ''
    if (code === 'EADDRINUSE') {
      throw new Refusal({
        kind: 'conflict',
        detail: `Port ${port} is taken by another program.`,
        field: '--port',
        remedy: `Stop that program, or choose another port: --port ${port + 1}`,
      })
    }
    if (code === 'EACCES' || code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND') {
      throw new Refusal({
        kind: 'bad input',
        detail: `The service may not listen at ${host}, port ${port} (${code}).`,
        field: code === 'EACCES' ? '--port' : '--host',
        remedy: 'Choose a port over 1023 and an address of this machine, or leave both out.',
      })
    }
    throw fault
  }
}

function addressOf(server: Server, host: string): string {
  const { port } = server.address() as AddressInfo
  const name = host === '0.0.0.0' || host === '::' ? 'localhost' : host.includes(':') ? `[${host}]` : host
  return `http://${name}:${port}`
}
