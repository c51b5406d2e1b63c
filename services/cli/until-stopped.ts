import type { Running } from '../serve.ts'
import { sayLine, sayRefusal } from './say.ts'

/** npm passes a Ctrl-C on that the terminal has sent already: one press may arrive twice. */
const SAME_PRESS_MS = 1_500

/**
 * Waits for Ctrl-C, a stop from outside, a closed terminal, or the loss of the database. The caller then stops the service in good order; a
 * second Ctrl-C ends it at once: whatever is in hand then is found again at the next start.
 */
export async function untilStopped(running: Running, beforeStop?: () => Promise<void>): Promise<number> {
  const signal = new Promise<null>((resolve) => {
    let askedAt: number | null = null
    const ask = () => {
      if (askedAt !== null && Date.now() - askedAt > SAME_PRESS_MS) process.exit(1)
      askedAt ??= Date.now()
      resolve(null)
    }
    process.on('SIGINT', ask)
    process.on('SIGTERM', ask)
    // The terminal was closed: without this PostgreSQL would be left running until the next start takes it over.
    process.on('SIGHUP', ask)
  })
  const reason = await Promise.race([signal, running.lost])
  if (reason === null) sayLine('Stopping.')
  await beforeStop?.()
  return reason === null ? 0 : sayRefusal(reason)
}
