import type { Log } from '../log.ts'
import type { Running } from '../serve.ts'
import { sayRefusal } from './say.ts'

/** Whoever asks for a stop kills soon after: at ten seconds by habit of those that run services in containers. */
const LONGEST_STOP_MS = 9_000
/** npm passes a Ctrl-C on that the terminal has sent already: one press may arrive twice. */
const SAME_PRESS_MS = 1_500

/**
 * Resolves at Ctrl-C, a stop from outside, or a closed terminal. To be called before anything is started: a stop that
 * comes while the service starts must not leave its PostgreSQL running. A second Ctrl-C ends at once, and so does a stop
 * that takes longer than nine seconds; whatever is in hand then is found again at the next start.
 */
export function askedToStop(): Promise<null> {
  return new Promise((resolve) => {
    let askedAt: number | null = null
    const ask = () => {
      if (askedAt !== null && Date.now() - askedAt > SAME_PRESS_MS) process.exit(1)
      if (askedAt === null) {
        askedAt = Date.now()
        setTimeout(endAnyhow, LONGEST_STOP_MS).unref()
      }
      resolve(null)
    }
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, ask)
  })
}

function endAnyhow(): void {
  process.stderr.write('Stopping took too long: ending as things stand. The next start goes on from there.\n')
  process.exit(1)
}

/** Like askedToStop, for work that looks at a signal. */
export function stopSignal(): AbortSignal {
  const stopping = new AbortController()
  void askedToStop().then(() => stopping.abort())
  return stopping.signal
}

/** Waits until the service is asked to stop or has lost its database; the caller then stops it in good order. */
export async function untilStopped(
  running: Running,
  { asked, log }: { readonly asked: Promise<null>; readonly log: Log },
): Promise<number> {
  const reason = await Promise.race([asked, running.lost])
  if (reason !== null) return sayRefusal(reason)
  log('Stopping.')
  return 0
}
