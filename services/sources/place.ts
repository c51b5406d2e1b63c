/** What sources work with: the one way in, the clock, and what they may reach. */
import type { Allowance } from '../intake/allowance.ts'
import { type IncomingStill, type Intake, takeStill } from '../intake/receive-still.ts'
import type { Log } from '../log.ts'
import type { Metrics } from '../metrics.ts'
import type { DiskRoom } from '../store/disk-room.ts'
import { readIntakeLimits } from '../store/intake-limits.ts'
import type { Ledger } from '../store/open.ts'
import type { ReceivedStill } from '../store/receive.ts'
import type { Instant } from '../words.ts'
import { type CallOut, type Lookup, lookUpAll } from './call-out.ts'
import { readHostRules } from './reach.ts'

export interface SourcePlace {
  readonly ledger: Ledger
  readonly intake: Intake
  readonly allowance: Allowance
  readonly room: DiskRoom
  readonly metrics: Pick<Metrics, 'taken'>
  readonly now: () => Instant
  readonly log: Log
  /** Folders under which drop folders may lie, as the operator said at the start. */
  readonly dropRoots: readonly string[]
  /** Hosts and networks inside a station's own network that may be asked, as the operator said at the start. */
  readonly cameraHosts: readonly string[]
  /** How names become addresses; absent: as this machine has it. */
  readonly lookUp?: Lookup
}

export type FetchedPhoto = Omit<IncomingStill, 'arrivedAt' | 'byHand'>

/**
 * Takes a photo that a source has fetched, by the one way in.
 * @throws Refusal, `too many` or `no room` where it must stay where it is for now
 */
export async function takeFetched(place: SourcePlace, photo: FetchedPhoto): Promise<ReceivedStill> {
  const arrivedAt = place.now()
  const asked = { limits: await readIntakeLimits(place.ledger), now: arrivedAt }
  place.allowance.refuseIfSpent(photo.camera, asked)
  await place.room.refuseIfFull(photo.bytes.length)
  const began = performance.now()
  const received = await takeStill(place.intake, { ...photo, arrivedAt })
  if (!received.known) place.allowance.spend(photo.camera.id, asked)
  place.metrics.taken(received, (performance.now() - began) / 1000)
  return received
}

/** @throws Error where a host rule makes no sense: they are read when the service starts */
export function callOutOf({ cameraHosts, lookUp = lookUpAll }: SourcePlace): CallOut {
  const rules = readHostRules(cameraHosts)
  if ('wrong' in rules) throw new Error(`${rules.wrong} is no host, address or network`)
  return { rules, lookUp }
}
