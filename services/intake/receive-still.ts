/** The one way in: every source of stills ends here. Bytes to disk, a row in the ledger, and only then the answer. */
import { createHash } from 'node:crypto'
import type { WaitingStill } from '../queue/queue.ts'
import { Refusal } from '../refusal.ts'
import type { CameraRow } from '../store/cameras.ts'
import type { ReceivedStill } from '../store/receive.ts'
import type { StillFiles } from '../store/still-files.ts'
import { isOld } from '../store/waiting.ts'
import { nightOf } from '../tally/nights.ts'
import { placed } from '../tally/placing.ts'
import type { Instant, Zone } from '../words.ts'
import { captureTime } from './capture-time.ts'
import type { IntakeDesk } from './desk.ts'
import { readCapture } from './exif.ts'
import { probe } from './probe.ts'

/** Larger than any still of a water-point camera; how many bytes may come in at once is bounded in http/receiving.ts. */
export const MAX_STILL_BYTES = 30 * 1024 * 1024

export interface Intake {
  readonly desk: IntakeDesk
  readonly files: StillFiles
  /** Told of each still that now waits to be looked at: the queue, where there is one. */
  readonly onReceived: (still: WaitingStill) => void
}

export interface IncomingStill {
  readonly camera: CameraRow
  readonly bytes: Buffer
  readonly fileName: string | null
  readonly fileTime: Instant | null
  /** The capture time the sender gave, if it gave one. */
  readonly senderAt: Instant | null
  /** The date of the mail that brought it; absent where none did. */
  readonly mailAt?: Instant | null | undefined
  /** A person put it in, from a card: not one of those that the camera may send in a day. */
  readonly byHand?: boolean | undefined
  readonly arrivedAt: Instant
}

/**
 * Takes one still. Bytes that are no picture are kept too, as unreadable, with the reason. The same bytes from the same
 * camera are the same still: said so in `known`, nothing doubled.
 * @throws Refusal when there are no bytes to keep, or too many, or the station is not set up.
 */
export async function takeStill(intake: Intake, incoming: IncomingStill): Promise<ReceivedStill> {
  const { camera, bytes } = incoming
  if (bytes.length > MAX_STILL_BYTES) throw tooLarge(bytes.length)
  const hash = createHash('sha256').update(bytes).digest()
  const { known, zone, limits, times, timesVersion } = await intake.desk.context({
    cameraId: camera.id,
    hash,
  })
  if (known !== null) {
    // Killed before it could answer, the service may have been about to keep the bytes again (below).
    if (known.state === 'received') await intake.files.keep(hash, bytes)
    return known
  }
  // What is there already is answered for, whatever the limit is now.
  const mostBytes = limits.stillMegabytes * 1024 * 1024
  if (bytes.length > mostBytes) throw tooLarge(bytes.length, mostBytes)
  const look = await probe(bytes, limits.megapixels)
  const tags = await readCapture(bytes)
  const time = captureTime({
    tags,
    senderAt: incoming.senderAt,
    mailAt: incoming.mailAt,
    fileName: incoming.fileName,
    fileTime: incoming.fileTime,
    arrivedAt: incoming.arrivedAt,
    zone: (camera.zone ?? zone) as Zone,
    clockErrorSeconds: camera.clock_error_seconds,
  })
  const place = placed(
    { id: 0, saidAt: time.takenAt, ownDoubt: time.ownDoubt },
    { times, shifts: [], presentPointId: times.at(-1)?.pointId ?? camera.point_id },
  )
  await intake.files.keep(hash, bytes)
  const picture = look.kind === 'picture' ? look : null
  const { still: received, letGoBefore } = await intake.desk.receive({
    cameraId: camera.id,
    pointId: place.pointId,
    hash,
    bytes: bytes.length,
    format: picture?.format ?? null,
    width: picture?.width ?? null,
    height: picture?.height ?? null,
    fileName: incoming.fileName,
    takenAt: time.takenAt,
    takenFrom: time.takenFrom,
    clockDoubt: place.clockDoubt,
    ownDoubt: time.ownDoubt,
    timesVersion,
    night: nightOf(time.takenAt, zone),
    receivedAt: incoming.arrivedAt,
    byHand: incoming.byHand ?? false,
    unreadableReason: look.kind === 'unreadable' ? look.reason : null,
  })
  if (letGoBefore) await intake.desk.keepAgain(intake.files, { hash, bytes })
  if (!received.known && received.state === 'received') {
    const old = isOld({ takenAt: time.takenAt, receivedAt: incoming.arrivedAt })
    const look = { hash: hash.toString('hex'), tiles: camera.search_tiles }
    intake.onReceived({ stillId: received.id, urgency: old ? 'old' : 'today', look })
  }
  return received
}

export function tooLarge(bytes: number, mostBytes = MAX_STILL_BYTES): Refusal {
  const megabytes = (count: number) => `${Math.round((count / 1024 / 1024) * 10) / 10} MB`
  return new Refusal({
    kind: 'too large',
    detail: `The photo is ${megabytes(bytes)} or more; at most ${megabytes(mostBytes)} are taken.`,
    field: 'body',
    remedy: 'Set the camera to a smaller picture, or send the photos one at a time.',
  })
}
