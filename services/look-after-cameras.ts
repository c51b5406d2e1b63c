/** Every few minutes each camera is looked after: does it still see, has its card room, is its clock to be believed? */
import { doubtJumps, doubtLight } from './look-after-clocks.ts'
import type { Placing } from './queue/placing.ts'
import { type Rounds, startRounds } from './rounds.ts'
import { lastPhotoAt, latestCardRoom, latestPhotosOf } from './store/camera-photos.ts'
import { type CameraRow, listCameras } from './store/cameras.ts'
import type { TroubleWord } from './store/clock-tables.ts'
import { toInstant } from './store/instants.ts'
import type { Ledger } from './store/open.ts'
import {
  beginTrouble,
  endTrouble,
  listTroubles,
  listTroubleWords,
  type TroubleRow,
} from './store/troubles.ts'
import {
  cardFullSince,
  judgePhotos,
  overSince,
  type PastBounds,
  troubleNow,
} from './tally/camera-troubles.ts'
import type { Instant } from './words.ts'

const FIRST_MS = 20_000
const ROUND_MS = 5 * 60_000

export function startLookingAfterCameras({
  ledger,
  placing,
  now,
  log,
}: {
  readonly ledger: Ledger
  /** Photos whose clock was put in doubt are taken out of the counts. */
  readonly placing: Placing
  readonly now: () => Instant
  readonly log: (line: string) => void
}): Rounds {
  return startRounds(
    async (shouldStop) => {
      let doubted = await doubtJumps(ledger, now())
      for (const camera of await listCameras(ledger)) {
        if (shouldStop()) break
        if (!camera.is_up) continue
        await lookAfterCamera(ledger, camera, now())
        doubted += await doubtLight(ledger, camera)
      }
      if (doubted > 0) placing.wake()
    },
    { about: 'looking after cameras', firstMs: FIRST_MS, roundMs: ROUND_MS, log },
  )
}

/** Finds what keeps a camera from seeing, and what no longer does. Doing it twice changes nothing. */
export async function lookAfterCamera(ledger: Ledger, camera: CameraRow, now: Instant): Promise<void> {
  const troubles = await listTroubles(ledger, camera.id)
  const said = await lastWordsOn(ledger, camera.id)
  const photos = await latestPhotosOf(ledger, camera.id)
  const judged = judgePhotos(photos, boundsOf(troubles, said))
  const open = troubles.filter((one) => one.to_at === null && !one.is_fine)
  const stillOpen: TroubleRow[] = []
  for (const trouble of open) {
    const over = trouble.kind === 'card full' ? null : overSince(judged, trouble.kind)
    if (over === null) stillOpen.push(trouble)
    else await endTrouble(ledger, trouble.id, over, now)
  }
  const found = troubleNow(judged.filter(({ at }) => at >= lastSaid(troubles, said)))
  if (found !== null && !stillOpen.some(({ kind }) => isSameSort(kind, found.kind)))
    await beginTrouble(ledger, { cameraId: camera.id, ...found, now })
  const cardFull = stillOpen.find(({ kind }) => kind === 'card full')
  await lookAtCard(ledger, camera, { open: cardFull, lastPhoto: lastPhotoAt(photos), now })
}

type Said = ReadonlyMap<number, TroubleWord>

async function lastWordsOn(ledger: Ledger, cameraId: number): Promise<Said> {
  const words = await listTroubleWords(ledger, cameraId)
  return new Map(words.toReversed().map((word) => [word.trouble_id, word.word]))
}

/** Photos of before a person's word on them prove nothing any more. */
function lastSaid(troubles: readonly TroubleRow[], said: Said): Instant {
  const ends = troubles.flatMap(({ id, to_at }) =>
    to_at !== null && ['fine', 'set right'].includes(said.get(id) ?? '') ? [toInstant(to_at)] : [],
  )
  return Math.max(0, ...ends) as Instant
}

/** Blind and knocked are told from the same measures: a camera on its face is the one by day and the other by night. */
const isSameSort = (a: TroubleRow['kind'], b: TroubleRow['kind']) =>
  a === b || (a !== 'unreadable' && a !== 'card full' && b !== 'unreadable' && b !== 'card full')

async function lookAtCard(
  ledger: Ledger,
  camera: CameraRow,
  {
    open,
    lastPhoto,
    now,
  }: {
    readonly open: TroubleRow | undefined
    readonly lastPhoto: Instant | null
    readonly now: Instant
  },
): Promise<void> {
  const beats = await latestCardRoom(ledger, camera.id)
  const photoBytes = camera.stills === 0 ? 0 : camera.still_bytes / camera.stills
  const since = cardFullSince(beats, { photoBytes, lastPhotoAt: lastPhoto })
  if (open === undefined && since !== null) {
    await beginTrouble(ledger, { cameraId: camera.id, kind: 'card full', from: since, stillId: null, now })
  }
  if (open === undefined || since !== null) return
  const signs = [lastPhoto, beats.at(-1)?.at ?? null].filter((at) => at !== null)
  const from = toInstant(open.from_at)
  const end = signs.filter((at) => at > from).sort((a, b) => a - b)[0] ?? now
  await endTrouble(ledger, open.id, end, now)
}

/**
 * What a camera's latest photos are held against. Once somebody said that a view is right, or set the camera right, what was
 * before is another view.
 */
function boundsOf(troubles: readonly TroubleRow[], said: Said): PastBounds {
  const resets = troubles.flatMap(({ id, kind, from_at, to_at }) => {
    if (kind !== 'knocked' && kind !== 'blind') return []
    if (said.get(id) === 'fine') return [toInstant(from_at)]
    return said.get(id) === 'set right' && kind === 'knocked' && to_at !== null ? [toInstant(to_at)] : []
  })
  return {
    since: resets.length === 0 ? null : (Math.max(...resets) as Instant),
    bad: troubles
      .filter(({ is_fine }) => !is_fine)
      .map(({ from_at, to_at }) => ({ from: toInstant(from_at), to: to_at && toInstant(to_at) })),
  }
}
