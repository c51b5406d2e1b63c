/** Times every request by its route, tells of it at level debug, and knows which are still in hand at a stop. */
import { setTimeout as wait } from 'node:timers/promises'
import type { Request, RequestHandler } from 'express'
import type { Log } from '../log.ts'
import type { Metrics } from '../metrics.ts'
import { toldPath } from './told-path.ts'

const METHODS = ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS']
const LOOK_EVERY_MS = 50

export interface RequestWatch {
  readonly handler: RequestHandler
  inHand(): number
  /** Takes no new request, and waits so long for those in hand. */
  stop(patienceMs: number): Promise<void>
}

export function watchRequests({
  metrics,
  log,
}: {
  readonly metrics: Metrics
  readonly log: Log
}): RequestWatch {
  let inHand = 0
  let stopping = false
  return {
    inHand: () => inHand,
    handler(request, response, next) {
      const began = performance.now()
      // The path alone: a query may hold what is nobody's business. (Routers change `path` on the way.)
      const { method } = request
      const path = toldPath(request.path)
      inHand += 1
      response.once('close', () => {
        inHand -= 1
        const seconds = (performance.now() - began) / 1000
        const status = response.writableFinished ? response.statusCode : 499
        const route = routeOf(request, path)
        // A stream lasts as long as somebody looks: that is no measure of the service.
        if (response.getHeader('Content-Type') !== 'text/event-stream') {
          metrics.answered({ method: METHODS.includes(method) ? method : 'other', route, status }, seconds)
        }
        log.debug(`${method} ${path}`, { method, path, route, status, millis: Math.round(seconds * 1000) })
      })
      if (stopping) {
        response.set({ Connection: 'close', 'Retry-After': '5' })
        response.status(503).type('text/plain').send('Hooftally is stopping. Try again in a few seconds.\n')
        return
      }
      next()
    },
    async stop(patienceMs) {
      stopping = true
      const until = performance.now() + patienceMs
      while (inHand > 0 && performance.now() < until) await wait(LOOK_EVERY_MS)
    },
  }
}

/** The pattern that matched, so that there are as many labels as routes and not as photos. */
function routeOf(request: Request, path: string): string {
  const pattern: unknown = (request.route as { readonly path?: unknown } | undefined)?.path
  if (typeof pattern === 'string' && !pattern.startsWith('/{*')) {
    return path.startsWith('/api/') ? `/api${pattern}` : pattern
  }
  return path.startsWith('/api/') ? 'unknown' : 'view'
}
