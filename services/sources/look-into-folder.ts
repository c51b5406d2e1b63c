/** One look into a drop folder: takes what has settled, sets aside what never becomes a photo. */
import { mayStillGrow, whyNotWhole } from '../intake/whole-picture.ts'
import { Refusal } from '../refusal.ts'
import type { CameraRow } from '../store/cameras.ts'
import { forgetDroppedFiles, listDroppedFiles } from '../store/dropped-files.ts'
import { readIntakeLimits } from '../store/intake-limits.ts'
import type { ReceivedStill } from '../store/receive.ts'
import { putAway, setAside } from './done-with.ts'
import type { DropFolderSettings } from './drop-folder.ts'
import { isSame, listDropped } from './list-dropped.ts'
import { type SourcePlace, takeFetched } from './place.ts'
import { readDropped } from './read-dropped.ts'
import { NOTHING_WATCHED, toRead, type Watched, type WatchedFile, watchOn } from './settled.ts'

/** Then the next look begins, so that what is known of the source is written now and then. */
const MOST_A_LOOK = 100

export interface FolderOrder {
  readonly sourceId: number
  readonly camera: CameraRow
  readonly settings: DropFolderSettings
  /** A real path. */
  readonly folder: string
  readonly quietMs: number
  readonly stop: AbortSignal
}

export interface FolderLook {
  readonly came: readonly ReceivedStill[]
  /** Files that have not settled, and those that were tried in vain. */
  readonly waiting: number
  readonly unread: number
  /** Why the rest must wait where it is: a limit, the disk. */
  readonly waitsFor: Refusal | null
  /** Why a file could not be moved or removed. */
  readonly notPutAway: string | null
  readonly isMore: boolean
  /** False where more lies there than is looked at. */
  readonly isAll: boolean
}

/** Lost with the process, and then files settle anew. */
const watchedBy = new WeakMap<SourcePlace, Map<number, Watched>>()

function watchedOf(place: SourcePlace): Map<number, Watched> {
  const known = watchedBy.get(place) ?? new Map<number, Watched>()
  watchedBy.set(place, known)
  return known
}

export async function lookIntoFolder(place: SourcePlace, order: FolderOrder): Promise<FolderLook> {
  const { sourceId, folder, settings, quietMs, stop } = order
  const memory = watchedOf(place)
  const { files, aside, isAll } = await listDropped(folder)
  const done = await listDroppedFiles(place.ledger, sourceId)
  const lying = new Set([...files, ...aside].map(({ path }) => path))
  const gone = isAll ? [...done.keys()].filter((path) => !lying.has(path)) : []
  await forgetDroppedFiles(place.ledger, sourceId, gone)
  const fresh = files.filter((file) => !isSame(done.get(file.path), file))
  const seen = watchOn(memory.get(sourceId) ?? NOTHING_WATCHED, fresh, place.now())
  const watched = new Map(seen.files)
  memory.set(sourceId, { at: seen.at, files: watched })

  const patienceMs = settings.patienceMinutes * 60_000
  const due = toRead(seen, { quietMs, patienceMs })
  const came: ReceivedStill[] = []
  let notPutAway: string | null = null
  // Taken before, and not moved or removed then: perhaps it can be now.
  const stuck = files.filter(
    (file) => done.get(file.path)?.reason === null && isSame(done.get(file.path), file),
  )
  if (settings.afterwards !== 'leave') {
    for (const file of stuck.slice(0, MOST_A_LOOK))
      notPutAway = (await putAway(place, { ...order, file })) ?? notPutAway
  }
  let waitsFor: Refusal | null = null
  for (const file of due.slice(0, MOST_A_LOOK)) {
    if (stop.aborted) break
    const isLast = file.quietMs >= patienceMs
    try {
      const one = await takeOne(place, { ...order, file, isLast })
      if (one.kind === 'came') came.push(one.still)
      if (one.kind === 'unread') watched.set(file.path, { ...file, reason: one.reason })
      else watched.delete(file.path)
      notPutAway ??= one.kind === 'unread' ? null : one.notPutAway
    } catch (fault) {
      if (!(fault instanceof Refusal) || fault.kind === 'too large') throw fault
      waitsFor = fault
      break
    }
  }
  const left = [...watched.values()]
  const unread = left.filter(({ reason }) => reason !== null).length
  return {
    came,
    waiting: left.length - unread,
    unread,
    waitsFor,
    notPutAway,
    isMore: due.length > MOST_A_LOOK,
    isAll,
  }
}

type One =
  | { readonly kind: 'came'; readonly still: ReceivedStill; readonly notPutAway: string | null }
  | { readonly kind: 'unread'; readonly reason: string }
  /** It changed while it was read, or was set aside. */
  | { readonly kind: 'passed'; readonly notPutAway: string | null }

async function takeOne(
  place: SourcePlace,
  order: FolderOrder & { readonly file: WatchedFile; readonly isLast: boolean },
): Promise<One> {
  const { camera, folder, file, isLast } = order
  const limits = await readIntakeLimits(place.ledger)
  const read = await readDropped(folder, file, limits.stillMegabytes * 1024 * 1024)
  if (read.kind === 'changing') return { kind: 'passed', notPutAway: null }
  const reason =
    read.kind === 'closed'
      ? read.reason
      : ((await whyNotWhole(read.bytes, limits.megapixels)) ??
        (!isLast && mayStillGrow(read.bytes) ? 'it has no end yet' : null))
  if (reason !== null && !isLast) return { kind: 'unread', reason }
  if (reason !== null || read.kind !== 'bytes')
    return { kind: 'passed', notPutAway: await setAside(place, { ...order, reason: reason ?? 'unknown' }) }
  const still = await takeFetched(place, {
    camera,
    bytes: read.bytes,
    fileName: file.path,
    fileTime: file.modifiedAt,
    senderAt: null,
  })
  return { kind: 'came', still, notPutAway: await putAway(place, order) }
}
