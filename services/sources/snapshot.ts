/** A camera's address that gives one photo, asked on a schedule. */
import { whyNotWhole } from '../intake/whole-picture.ts'
import { Refusal } from '../refusal.ts'
import { readIntakeLimits } from '../store/intake-limits.ts'
import { findPoint } from '../store/points.ts'
import type { Instant } from '../words.ts'
import { addressesOf, NotReached } from './call-out.ts'
import { type Fetched, fetchPhoto, type KnownDoor } from './fetch-photo.ts'
import { keepIfNew, NOTHING_KEPT, type SnapshotState, snapshotState } from './keep-if-new.ts'
import { networkWords } from './network-words.ts'
import { callOutOf, type SourcePlace } from './place.ts'
import { changedSettings, type SnapshotSettings, shownSettings, snapshotDoor } from './snapshot-settings.ts'
import { nextTurn, waitAfterFailure } from './snapshot-times.ts'
import type { Look, LookOrder, SourceKind } from './source.ts'

type Order = LookOrder<SnapshotSettings, SnapshotState>

/** Two pictures of a sensor are never the same to the byte; a camera that hangs sends its last one on and on. */
const SAME_IS_STUCK = 3
const MINUTE_MS = 60_000
/** For a limit or for room: the owner may make some meanwhile. */
const LONGEST_WAIT_SECONDS = 600

export const snapshot: SourceKind<SnapshotSettings, SnapshotState> = {
  name: 'snapshot',
  door: snapshotDoor,
  state: snapshotState,
  fresh: NOTHING_KEPT,
  shown: shownSettings,
  told: ({ notKept }) =>
    notKept === 0 ? null : `Since the last kept photo ${notKept} showed nothing new and were not kept.`,
  changed: changedSettings,
  async refuse({ address }, place) {
    await addressesOf(callOutOf(place), new URL(address)).catch((fault: unknown) => {
      // A name that is not known just now is told by the first look.
      if (!(fault instanceof NotReached)) return
      throw new Refusal({
        kind: 'forbidden',
        detail: fault.message,
        field: 'settings.address',
        remedy: 'Check the address; docs/ways-in/snapshot.md says which are asked.',
      })
    })
  },
  look,
}

async function look(place: SourcePlace, order: Order): Promise<Look<SnapshotState>> {
  const { camera, settings, state, failures } = order
  const limits = await readIntakeLimits(place.ledger)
  const point = await findPoint(place.ledger, camera.point_id)
  const turn = () => nextTurn(place.now(), point, settings)
  const failed = (
    words: string,
    again: { isRefused?: boolean; seconds?: number | null } = {},
  ): Look<SnapshotState> => {
    const minutes = waitAfterFailure({
      failures: failures + 1,
      usualMinutes: settings.everyMinutes,
      isRefused: again.isRefused ?? false,
    })
    const waitMs = Math.max(minutes * MINUTE_MS, (again.seconds ?? 0) * 1_000)
    return { outcome: 'failed', came: [], words, state, nextAt: (place.now() + waitMs) as Instant }
  }
  try {
    place.allowance.refuseIfSpent(camera, { limits, now: place.now() })
    await place.room.refuseIfFull(0)
    const fetched = await askCamera(place, order, limits.stillMegabytes * 1024 * 1024)
    if (fetched.kind === 'failed')
      return failed(fetched.words, { isRefused: fetched.isRefused, seconds: fetched.retryAfterSeconds })
    const broken = await whyNotWhole(fetched.bytes, limits.megapixels)
    if (broken !== null) return failed(`What the camera sent is no photo to keep: ${broken}.`)
    const kept = await keepIfNew(place, order, fetched.bytes)
    if (kept.state.again >= SAME_IS_STUCK)
      return {
        ...failed(
          `The camera has sent the very same picture ${kept.state.again + 1} times: it hangs, or keeps an old one.`,
        ),
        state: kept.state,
      }
    return { outcome: 'well', came: kept.came, words: null, state: kept.state, nextAt: turn() }
  } catch (fault) {
    if (!(fault instanceof Refusal)) throw fault
    const waitMs = Math.min(LONGEST_WAIT_SECONDS, fault.retryAfterSeconds ?? 60) * 1_000
    const nextAt = Math.max(turn(), place.now() + waitMs) as Instant
    return { outcome: 'waits', came: [], words: `${fault.message} Nothing was fetched.`, state, nextAt }
  }
}

/** Nonces are remembered while the service runs; after that the camera asks once more. */
const doors = new WeakMap<SourcePlace, Map<number, KnownDoor>>()

function doorOf(place: SourcePlace, sourceId: number): KnownDoor {
  const known = doors.get(place) ?? new Map<number, KnownDoor>()
  doors.set(place, known)
  const door = known.get(sourceId) ?? { challenge: null, nonceCount: 0 }
  known.set(sourceId, door)
  return door
}

async function askCamera(
  place: SourcePlace,
  { sourceId, settings, stop }: Order,
  mostBytes: number,
): Promise<Fetched> {
  const { address, user, password, certificateSha256, timeoutSeconds } = settings
  const late = AbortSignal.timeout(timeoutSeconds * 1_000)
  try {
    return await fetchPhoto(callOutOf(place), {
      url: new URL(address),
      credentials: user === null ? null : { user, password: password ?? '' },
      certificateSha256,
      mostBytes,
      door: doorOf(place, sourceId),
      signal: AbortSignal.any([late, stop]),
    })
  } catch (fault) {
    const words = late.aborted
      ? `The camera did not send a whole photo within ${timeoutSeconds === 1 ? '1 second' : `${timeoutSeconds} seconds`}.`
      : networkWords(fault)
    if (words === null && !stop.aborted) throw fault
    return {
      kind: 'failed',
      words: words ?? 'The service is stopping.',
      isRefused: false,
      retryAfterSeconds: null,
    }
  }
}
