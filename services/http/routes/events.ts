/** A stream of what changes, as server-sent events (WHATWG HTML Living Standard, section 9.2). */
import { type Response, Router } from 'express'
import type { House } from '../../house.ts'
import { Refusal } from '../../refusal.ts'
import type { Change } from '../../store/notices.ts'

/** A connection costs some kilobytes; a station has a handful of people. */
const MOST_STREAMS = 200
/** The standard advises a comment "every 15 seconds or so"; proxies commonly cut what is silent for a minute. */
const HEARTBEAT_MS = 20_000
/** How soon a browser comes back after the stream was cut. */
const RETRY_MS = 3_000
/** A phone that takes nothing in any more is let go of, and asks again when it is back. */
const MOST_WAITING_BYTES = 64 * 1024

const UNKNOWN: Readonly<Record<keyof Change, null>> = {
  stillIds: null,
  pointIds: null,
  nights: null,
  checkId: null,
}

export function eventRoutes(house: House): Router {
  const router = Router()

  router.get('/events', (_request, response) => {
    if (house.news.hearers() >= MOST_STREAMS) {
      throw new Refusal({
        kind: 'unavailable',
        detail: `${MOST_STREAMS} pages are listening already, which is the most.`,
        remedy: 'Close some of them. A page that hears nothing asks again every half minute.',
      })
    }
    // Always UTF-8, so it takes no charset.
    response.setHeader('Content-Type', 'text/event-stream')
    response.setHeader('X-Accel-Buffering', 'no')
    response.flushHeaders()
    response.write(`retry: ${RETRY_MS}\n: hears\n\n`)
    const heartbeat = setInterval(() => say(response, ': still here\n\n'), HEARTBEAT_MS)
    const leave = house.news.hear(
      (change) => say(response, eventOf(change)),
      () => response.end(),
    )
    response.once('close', () => {
      clearInterval(heartbeat)
      leave()
    })
  })

  return router
}

function say(response: Response, words: string): void {
  if (response.writableLength > MOST_WAITING_BYTES) response.destroy()
  else response.write(words)
}

function eventOf(change: Change | null): string {
  return `event: changed\ndata: ${JSON.stringify(change ?? UNKNOWN)}\n\n`
}
