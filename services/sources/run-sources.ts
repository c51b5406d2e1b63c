/** Looks at each camera's sources when they are due, several at once, each by itself. */
import type { ReceivedStill } from '../store/receive.ts'
import { isDue, listDueSources, readSource, recordLook, type SourceOfCamera } from '../store/sources.ts'
import type { Instant } from '../words.ts'
import { kindOf } from './kinds.ts'
import type { SourcePlace } from './place.ts'
import type { Look } from './source.ts'

export const SOURCES_EVERY_MS = 2_000
/** Slow cameras must not hold up the others. */
const AT_ONCE = 8
/** After a fault of ours. */
const FAULT_WAIT_MS = 300_000

export interface Tried {
  readonly outcome: Look<unknown>['outcome']
  readonly came: readonly ReceivedStill[]
  readonly words: string | null
}

export interface Sources {
  readonly place: SourcePlace
  /** Looks at a source at once, whatever its schedule says. Null where it has been taken away. */
  tryNow(sourceId: number): Promise<Tried | null>
  /** Looks at all that is due and waits for it. */
  round(): Promise<void>
  /** Gives up what is in hand: nothing that was not answered for is lost by it. */
  stop(): Promise<void>
}

/** @param everyMs how often it sees what is due by itself; absent: never, only in `round` */
export function openSources(place: SourcePlace, { everyMs }: { readonly everyMs?: number } = {}): Sources {
  const stopping = new AbortController()
  const inHand = new Map<number, Promise<Tried | null>>()
  let lastFault = ''

  function look(sourceId: number, asked: boolean): Promise<Tried | null> {
    const looking = lookIfDue(place, { sourceId, asked, stop: stopping.signal }).finally(() => {
      inHand.delete(sourceId)
    })
    inHand.set(sourceId, looking)
    return looking
  }

  /** True where more is due than may be in hand at once. */
  async function begin(): Promise<boolean> {
    try {
      for (const sourceId of await listDueSources(place.ledger, place.now())) {
        if (stopping.signal.aborted) return false
        if (inHand.size >= AT_ONCE) return true
        if (!inHand.has(sourceId)) look(sourceId, false).catch(told)
      }
      lastFault = ''
    } catch (fault) {
      told(fault)
    }
    return false
  }
  const rounds = everyMs === undefined ? undefined : setInterval(() => void begin(), everyMs)

  /** A database that is away is said once, not every two seconds. */
  function told(fault: unknown): void {
    const words = fault instanceof Error ? fault.message : String(fault)
    if (words !== lastFault) place.log.error(`sources: ${words}; tried again`)
    lastFault = words
  }

  return {
    place,
    async tryNow(sourceId) {
      while (inHand.has(sourceId)) await Promise.allSettled([inHand.get(sourceId)])
      return stopping.signal.aborted ? null : await look(sourceId, true)
    },
    async round() {
      let isMore = true
      while (isMore) {
        isMore = await begin()
        await Promise.allSettled(inHand.values())
      }
    },
    async stop() {
      clearInterval(rounds)
      stopping.abort()
      await Promise.allSettled(inHand.values())
    },
  }
}

/** Null where the source is gone, or is not due any more since it was listed. */
async function lookIfDue(
  place: SourcePlace,
  {
    sourceId,
    asked,
    stop,
  }: { readonly sourceId: number; readonly asked: boolean; readonly stop: AbortSignal },
): Promise<Tried | null> {
  const source = await readSource(place.ledger, sourceId)
  if (source === null || !(asked || isDue(source, place.now()))) return null
  const { camera, settings, state, failures } = source
  const look = await kindOf(source.kind)
    .look(place, { sourceId, camera, settings, state, failures, asked, stop })
    .catch((fault: unknown) => faultOfOurs(place, { source, fault }))
  // A stop in the middle is no failure of the camera's.
  if (!stop.aborted) {
    await recordLook(place.ledger, source, {
      at: place.now(),
      reason: look.outcome === 'well' ? null : look.words,
      failures: look.outcome === 'failed' ? failures + 1 : look.outcome === 'waits' ? failures : 0,
      nextAt: look.nextAt,
      state: look.state,
    })
  }
  return { outcome: look.outcome, came: look.came, words: look.words }
}

function faultOfOurs(
  place: SourcePlace,
  { source, fault }: { readonly source: SourceOfCamera; readonly fault: unknown },
): Look<unknown> {
  const whole = fault instanceof Error ? (fault.stack ?? fault.message) : String(fault)
  place.log.error(`${source.kind} of ${source.camera.name}: ${whole}`)
  return {
    outcome: 'failed',
    came: [],
    words: 'The service met a fault it did not foresee; it is in the log.',
    state: source.state,
    nextAt: (place.now() + FAULT_WAIT_MS) as Instant,
  }
}
