/** What intake asks of the ledger: under load, one question and one transaction for many stills. */
import { inBatches } from '../in-batches.ts'
import { readTimesOf } from '../store/camera-times.ts'
import { type CameraRow, findCamerasByKey } from '../store/cameras.ts'
import { type IntakeLimits, readIntakeLimits } from '../store/intake-limits.ts'
import type { Ledger } from '../store/open.ts'
import {
  findKnownStills,
  type NewStill,
  type ReceivedStill,
  receiveStills,
  type StillName,
} from '../store/receive.ts'
import { findLetGo, keepAgain } from '../store/removals.ts'
import { readSettings } from '../store/settings.ts'
import type { StillFiles } from '../store/still-files.ts'
import type { TimeAtPoint } from '../tally/placing.ts'
import type { Zone } from '../words.ts'

export interface StillContext {
  /** The station's. */
  readonly zone: Zone
  readonly limits: IntakeLimits
  /** When the camera stood where, oldest first, and the version of that. */
  readonly times: readonly TimeAtPoint[]
  readonly timesVersion: number
  /** The still these bytes already are; null where they are new. */
  readonly known: ReceivedStill | null
}

export interface IntakeDesk {
  /** The camera a key belongs to, or null. */
  cameraByKey(key: string): Promise<CameraRow | null>
  /** What is to be known before a still's bytes are kept. @throws Refusal where the station is not set up */
  context(name: StillName): Promise<StillContext>
  /** Adds the still and its contact; its bytes must be safe on disk already. */
  receive(still: NewStill): Promise<Received>
  /** Keeps the bytes of a received still again, where they had been let go before. */
  keepAgain(files: StillFiles, still: { readonly hash: Buffer; readonly bytes: Buffer }): Promise<void>
}

export interface Received {
  readonly still: ReceivedStill
  /** The same bytes had been let go before: a removal under way may have taken them. */
  readonly letGoBefore: boolean
}

export function openIntakeDesk(ledger: Ledger): IntakeDesk {
  return {
    cameraByKey: inBatches((keys) => findCamerasByKey(ledger, keys)),
    context: inBatches(async (names) => {
      const [{ zone }, limits, times, known] = await Promise.all([
        readSettings(ledger),
        readIntakeLimits(ledger),
        readTimesOf(
          ledger,
          names.map(({ cameraId }) => cameraId),
        ),
        findKnownStills(ledger, names),
      ])
      return names.map(({ cameraId }, i) => ({
        zone,
        limits,
        times: times.get(cameraId)?.times ?? [],
        timesVersion: times.get(cameraId)?.version ?? 0,
        known: known[i] ?? null,
      }))
    }),
    receive: inBatches(async (stills) => {
      const received = await receiveStills(ledger, stills)
      // Asked after the stills are in: from now on no removal begins.
      const letGo = await findLetGo(
        ledger,
        stills.map(({ hash }) => hash),
      )
      return received.map((still, i) => ({
        still,
        letGoBefore: letGo.has(stills[i]!.hash.toString('hex')),
      }))
    }),
    keepAgain: (files, still) => keepAgain(ledger, files, still),
  }
}
