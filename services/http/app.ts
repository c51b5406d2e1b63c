/** The Express application: routes under /api, the built view for everything else. */
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import express, { type Express } from 'express'
import type { House } from '../house.ts'
import { withoutSecrets } from '../log.ts'
import { viewFolder } from '../paths.ts'
import { Refusal } from '../refusal.ts'
import { guard } from './guard.ts'
import { jsonBody } from './json-body.ts'
import { problemHandler } from './problem.ts'
import { accessRoutes } from './routes/access.ts'
import { auditRoutes } from './routes/audits.ts'
import { cameraRoutes } from './routes/cameras.ts'
import { cardRoutes } from './routes/card.ts'
import { cattleRoutes } from './routes/cattle.ts'
import { checkRoutes } from './routes/checks.ts'
import { clockRoutes } from './routes/clocks.ts'
import { didItWorkRoutes } from './routes/did-it-work.ts'
import { eventRoutes } from './routes/events.ts'
import { evidenceRoutes } from './routes/evidence.ts'
import { healthRoutes } from './routes/health.ts'
import { intakeRoutes } from './routes/intake.ts'
import { jobRoutes } from './routes/jobs.ts'
import { keepingRoutes } from './routes/keeping.ts'
import { mailboxRoutes } from './routes/mailboxes.ts'
import { metricsRoutes } from './routes/metrics.ts'
import { musterRoutes } from './routes/muster.ts'
import { outcomeRoutes } from './routes/outcomes.ts'
import { ownAnimalRoutes } from './routes/own-animals.ts'
import { pastCountRoutes } from './routes/past-counts.ts'
import { pointRoutes } from './routes/points.ts'
import { pressureRoutes } from './routes/pressure.ts'
import { programRoutes } from './routes/programs.ts'
import { rerunRoutes } from './routes/reruns.ts'
import { shareLinkRoutes } from './routes/share-links.ts'
import { sharedRoutes } from './routes/shared.ts'
import { sourceRoutes } from './routes/sources.ts'
import { stationRoutes } from './routes/station.ts'
import { stillRoutes } from './routes/stills.ts'
import { targetListRoutes } from './routes/target-lists.ts'
import { trapYardRoutes } from './routes/trap-yards.ts'
import { trapRoutes } from './routes/traps.ts'
import { watchingRoutes } from './routes/watching.ts'
import { waterRunRoutes } from './routes/water-run.ts'
import { workerRoutes } from './routes/workers.ts'
import { type RequestWatch, watchRequests } from './watch-requests.ts'

/** No script, style or picture from anywhere else; the view needs none. */
const CONTENT_POLICY =
  "default-src 'self'; img-src 'self' data: blob:; style-src 'self' 'unsafe-inline'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'"

export function createApp(
  house: House,
  {
    loopbackOnly,
    requests = watchRequests(house),
  }: { readonly loopbackOnly: boolean; readonly requests?: RequestWatch },
): Express {
  const app = express()
  app.disable('x-powered-by')
  app.use(requests.handler)
  app.use((_request, response, next) => {
    response.set({
      'Content-Security-Policy': CONTENT_POLICY,
      'X-Content-Type-Options': 'nosniff',
      'Referrer-Policy': 'same-origin',
    })
    next()
  })
  app.use(guard({ loopbackOnly }))
  app.use(metricsRoutes(house))
  app.use('/api', (_request, response, next) => {
    // Answers change with every photo; pictures set their own word.
    response.set('Cache-Control', 'no-store')
    next()
  })
  // First and without the JSON reader: a photo's bytes are kept as they came, whatever they call themselves.
  app.use('/api', intakeRoutes(house))
  app.use('/api', cardRoutes(house))
  // A worker's result may be larger than what people send.
  app.use('/api', workerRoutes(house))
  app.use('/api', jsonBody, [
    stationRoutes(house),
    keepingRoutes(house),
    pointRoutes(house),
    cameraRoutes(house),
    clockRoutes(house),
    watchingRoutes(house),
    sourceRoutes(house),
    mailboxRoutes(house),
    waterRunRoutes(house),
    pressureRoutes(house),
    pastCountRoutes(house),
    trapYardRoutes(house),
    cattleRoutes(house),
    outcomeRoutes(house),
    trapRoutes(house),
    jobRoutes(house),
    stillRoutes(house),
    checkRoutes(house),
    auditRoutes(house),
    evidenceRoutes(house),
    didItWorkRoutes(house),
    eventRoutes(house),
    rerunRoutes(house),
    musterRoutes(house),
    ownAnimalRoutes(house),
    programRoutes(house),
    targetListRoutes(house),
    shareLinkRoutes(house),
    accessRoutes(house),
    healthRoutes(house),
  ])
  app.use('/api', (request) => {
    throw new Refusal({
      kind: 'not found',
      detail: `There is nothing at ${request.method} ${withoutSecrets(request.originalUrl)}.`,
      remedy: 'docs/api.md lists the addresses.',
    })
  })
  app.use('/shared', sharedRoutes(house))
  serveView(app)
  app.use(problemHandler(house.log))
  return app
}

function serveView(app: Express): void {
  app.use(
    '/assets',
    express.static(join(viewFolder, 'assets'), { immutable: true, maxAge: '1y', fallthrough: false }),
  )
  app.use(express.static(viewFolder, { index: false, maxAge: 0 }))
  app.get('/{*path}', (_request, response) => {
    const page = join(viewFolder, 'index.html')
    if (!existsSync(page)) {
      throw new Refusal({
        kind: 'not found',
        detail: 'The view has not been built.',
        remedy: 'Stop the service and start it with npm, which builds what is missing.',
      })
    }
    response.set('Cache-Control', 'no-cache').sendFile(page)
  })
}
