/** What a running service has in hand: handed to the routes and the demo, made in serve.ts. */
import type { EyeProcess } from './queue/eye-process.ts'
import type { Queue } from './queue/queue.ts'
import type { Ledger } from './store/open.ts'
import type { StillFiles } from './store/still-files.ts'
import type { Instant, Thresholds } from './words.ts'

export interface House {
  readonly ledger: Ledger
  readonly files: StillFiles
  /** Where the stills lie: its disk is the one that fills. */
  readonly dataFolder: string
  readonly queue: Queue
  readonly eye: EyeProcess
  /** Thresholds of the manifest, for a species the owner has not set. */
  readonly defaultThresholds: Thresholds
  /** The only clock. */
  readonly now: () => Instant
  readonly log: (line: string) => void
  /** The demo's past while it is being made. */
  readonly making: () => { readonly made: number; readonly of: number } | null
}
