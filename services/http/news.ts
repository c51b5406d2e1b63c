/** Who looks at the station just now, and hears at once what others changed. */
import type { Change } from '../store/notices.ts'

/** Null: something changed, and it is not known what. */
export type Hearer = (change: Change | null) => void

export interface News {
  publish(change: Change | null): void
  /** Calls `hearer` with each change until the function that comes back is called; `onEnd` when the service stops. */
  hear(hearer: Hearer, onEnd: () => void): () => void
  hearers(): number
  /** Ends every stream: none must hold up a stop. */
  stop(): void
}

export function openNews(): News {
  const hearers = new Map<Hearer, () => void>()
  return {
    publish(change) {
      for (const hearer of hearers.keys()) hearer(change)
    },
    hear(hearer, onEnd) {
      hearers.set(hearer, onEnd)
      return () => hearers.delete(hearer)
    },
    hearers: () => hearers.size,
    stop() {
      for (const onEnd of hearers.values()) onEnd()
      hearers.clear()
    },
  }
}
