/** What a running service has in hand: handed to the routes and the demo, made in serve.ts. */
import type { News } from './http/news.ts'
import type { Receiving } from './http/receiving.ts'
import type { Allowance } from './intake/allowance.ts'
import type { Log } from './log.ts'
import type { Mail } from './mail/run-mail.ts'
import type { Metrics } from './metrics.ts'
import type { EyeProcess } from './queue/eye-process.ts'
import type { Learning } from './queue/learning.ts'
import type { Placing } from './queue/placing.ts'
import type { Queue } from './queue/queue.ts'
import type { Recounting } from './queue/recounting.ts'
import type { ForWorkers } from './queue/start-looking.ts'
import type { Sources } from './sources/run-sources.ts'
import type { DiskRoom } from './store/disk-room.ts'
import type { Ledger } from './store/open.ts'
import type { StillFiles } from './store/still-files.ts'
import type { Instant, ModelIdentity, Thresholds } from './words.ts'

export interface House {
  readonly ledger: Ledger
  readonly files: StillFiles
  /** Of the disk that photos fill. */
  readonly room: DiskRoom
  /** Of the memory that photos take while they come in. */
  readonly receiving: Receiving
  /** Of each camera, in a minute and a day. */
  readonly allowance: Allowance
  /** Fetches photos that cameras do not send. */
  readonly sources: Sources
  readonly queue: Queue
  /** Counts again in the background after a change of marks. */
  readonly recounting: Recounting
  /** Puts photos in their places after their times, or where their camera stood, changed. */
  readonly placing: Placing
  /** Learns the station's own animals from its checks. */
  readonly learning: Learning
  /** Reads the mailboxes that cameras send their photos to. */
  readonly mail: Mail
  /** Tells pages that are open what changed. */
  readonly news: News
  /** Null where only workers look at photos. */
  readonly eye: EyeProcess | null
  /** Null where this process looks at photos alone. */
  readonly workers: ForWorkers | null
  /** The models this station counts with: those of its workers must be the same. */
  readonly models: ModelIdentity
  /** Thresholds of the manifest, for a species the owner has not set. */
  readonly defaultThresholds: Thresholds
  /** The only clock. */
  readonly now: () => Instant
  readonly log: Log
  /** What the service counts of itself. */
  readonly metrics: Metrics
  /** The demo's past while it is being made. */
  readonly making: () => { readonly made: number; readonly of: number } | null
}
