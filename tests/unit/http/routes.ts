/** Every route the API registers, read off the Express routers themselves. */
import type { Router } from 'express'
import type { House } from '../../../services/house.ts'
import { accessRoutes } from '../../../services/http/routes/access.ts'
import { auditRoutes } from '../../../services/http/routes/audits.ts'
import { cameraRoutes } from '../../../services/http/routes/cameras.ts'
import { cardRoutes } from '../../../services/http/routes/card.ts'
import { cattleRoutes } from '../../../services/http/routes/cattle.ts'
import { checkRoutes } from '../../../services/http/routes/checks.ts'
import { clockRoutes } from '../../../services/http/routes/clocks.ts'
import { didItWorkRoutes } from '../../../services/http/routes/did-it-work.ts'
import { eventRoutes } from '../../../services/http/routes/events.ts'
import { evidenceRoutes } from '../../../services/http/routes/evidence.ts'
import { healthRoutes } from '../../../services/http/routes/health.ts'
import { intakeRoutes } from '../../../services/http/routes/intake.ts'
import { jobRoutes } from '../../../services/http/routes/jobs.ts'
import { keepingRoutes } from '../../../services/http/routes/keeping.ts'
import { mailboxRoutes } from '../../../services/http/routes/mailboxes.ts'
import { metricsRoutes } from '../../../services/http/routes/metrics.ts'
import { musterRoutes } from '../../../services/http/routes/muster.ts'
import { outcomeRoutes } from '../../../services/http/routes/outcomes.ts'
import { ownAnimalRoutes } from '../../../services/http/routes/own-animals.ts'
import { pastCountRoutes } from '../../../services/http/routes/past-counts.ts'
import { pointRoutes } from '../../../services/http/routes/points.ts'
import { pressureRoutes } from '../../../services/http/routes/pressure.ts'
import { programRoutes } from '../../../services/http/routes/programs.ts'
import { rerunRoutes } from '../../../services/http/routes/reruns.ts'
import { shareLinkRoutes } from '../../../services/http/routes/share-links.ts'
import { sharedRoutes } from '../../../services/http/routes/shared.ts'
import { sourceRoutes } from '../../../services/http/routes/sources.ts'
import { stationRoutes } from '../../../services/http/routes/station.ts'
import { stillRoutes } from '../../../services/http/routes/stills.ts'
import { targetListRoutes } from '../../../services/http/routes/target-lists.ts'
import { trapYardRoutes } from '../../../services/http/routes/trap-yards.ts'
import { trapRoutes } from '../../../services/http/routes/traps.ts'
import { watchingRoutes } from '../../../services/http/routes/watching.ts'
import { waterRunRoutes } from '../../../services/http/routes/water-run.ts'
import { workerRoutes } from '../../../services/http/routes/workers.ts'

import { openMetrics } from '../../../services/metrics.ts'

export interface RegisteredRoute {
  /** `GET`, `POST`, `PUT` or `PATCH`. */
  readonly method: string
  /** `/api/points/:id` */
  readonly path: string
}

/** Nothing is called here, so a house without rooms will do. */
const nobodysHouse = () => ({ queue: { offer: () => undefined }, metrics: openMetrics() }) as unknown as House

export function registeredRoutes(): RegisteredRoute[] {
  const house = nobodysHouse()
  const routers = [
    stationRoutes,
    keepingRoutes,
    pointRoutes,
    cameraRoutes,
    clockRoutes,
    watchingRoutes,
    sourceRoutes,
    mailboxRoutes,
    intakeRoutes,
    cardRoutes,
    waterRunRoutes,
    pressureRoutes,
    pastCountRoutes,
    trapYardRoutes,
    cattleRoutes,
    outcomeRoutes,
    trapRoutes,
    jobRoutes,
    stillRoutes,
    checkRoutes,
    auditRoutes,
    evidenceRoutes,
    didItWorkRoutes,
    eventRoutes,
    rerunRoutes,
    musterRoutes,
    ownAnimalRoutes,
    programRoutes,
    targetListRoutes,
    shareLinkRoutes,
    accessRoutes,
    workerRoutes,
    healthRoutes,
  ].map((routes) => routes(house))
  return [
    ...routers.flatMap((router) => routesOf(router, '/api')),
    ...routesOf(sharedRoutes(house), '/shared'),
    ...routesOf(metricsRoutes(house), ''),
  ]
}

function routesOf(router: Router, under: string): RegisteredRoute[] {
  return router.stack.flatMap(({ route }) => {
    if (route === undefined) return []
    // One entry a handler: a route that reads its body first has two.
    const methods = new Set(route.stack.map(({ method }) => method.toUpperCase()))
    return [...methods].map((method) => ({ method, path: `${under}${route.path}` }))
  })
}
