/** What intake asks of the ledger: under load, one question and one transaction for many stills. */
import { inBatches } from '../in-batches.ts'
import { type CameraRow, type DeploymentRow, findCamerasByKey, listDeploymentsOf } from '../store/cameras.ts'
import type { Ledger } from '../store/open.ts'
import {
  findKnownStills,
  type NewStill,
  type ReceivedStill,
  receiveStills,
  type StillName,
} from '../store/receive.ts'
import { readSettings } from '../store/settings.ts'
import type { Zone } from '../words.ts'

export interface StillContext {
  /** The station's. */
  readonly zone: Zone
  /** Every spell in which the camera stood somewhere, oldest first. */
  readonly deployments: readonly DeploymentRow[]
  /** The still these bytes already are; null where they are new. */
  readonly known: ReceivedStill | null
}

export interface IntakeDesk {
  /** The camera a key belongs to, or null. */
  cameraByKey(key: string): Promise<CameraRow | null>
  /** What is to be known before a still's bytes are kept. @throws Refusal where the station is not set up */
  context(name: StillName): Promise<StillContext>
  /** Adds the still and its contact; its bytes must be safe on disk already. */
  receive(still: NewStill): Promise<ReceivedStill>
}

export function openIntakeDesk(ledger: Ledger): IntakeDesk {
  return {
    cameraByKey: inBatches((keys) => findCamerasByKey(ledger, keys)),
    context: inBatches(async (names) => {
      const [{ zone }, deployments, known] = await Promise.all([
        readSettings(ledger),
        listDeploymentsOf(
          ledger,
          names.map(({ cameraId }) => cameraId),
        ),
        findKnownStills(ledger, names),
      ])
      return names.map(({ cameraId }, i) => ({
        zone,
        deployments: deployments.filter(({ camera_id }) => camera_id === cameraId),
        known: known[i] ?? null,
      }))
    }),
    receive: inBatches((stills) => receiveStills(ledger, stills)),
  }
}
