/** Sends a card's photos: what came before is asked for and not sent; a lost link is waited for; nothing is given up silently. */
import type { CardKnown, CardPhoto } from '../../../services/http/card-doors.ts'
import { AFTER_TAKEN_DOWN, BEFORE_PUT_UP } from '../../../services/tally/placing.ts'
import { Failed, type Failure, failureOf } from '../../api/ask.ts'
import type { CardFile } from './card-files.ts'

export type CardPhotoTold = CardPhoto['photo']

export interface CardPost {
  known(hashes: readonly string[]): Promise<CardKnown>
  send(file: CardFile, bytes: ArrayBuffer): Promise<CardPhoto>
  /** SHA-256 in digits; null where this page may not reckon one (plain http over a network). */
  readonly hashOf: ((bytes: ArrayBuffer) => Promise<string>) | null
  /** Resolves early when the link may be back. */
  wait(ms: number): Promise<void>
}

export interface CardProgress {
  readonly total: number
  /** New, known and failed together. */
  readonly done: number
  readonly fresh: number
  readonly known: number
  readonly unreadable: number
  readonly doubtful: number
  readonly failed: ReadonlyArray<{ readonly path: string; readonly why: string }>
  /** First and last photo of which the time is trusted, as ISO 8601; also those that only the camera's times speak against. */
  readonly span: { readonly first: string; readonly last: string } | null
  /** Waiting for a link, or for a service that has no room just now. */
  readonly waits: Failure | null
  /** Nothing more goes in until somebody does something. */
  readonly halted: Failure | null
}

/** Held in memory at once: a few photos of a few megabytes. */
const FILES_AT_ONCE = 8
const SENT_AT_ONCE = 2
const WAITS_MS = [1_000, 2_000, 5_000, 10_000, 20_000]
/** No answer, too slow, too many, a fault, not available: the same may go through later. */
const LATER: ReadonlySet<number | null> = new Set([null, 408, 429, 500, 502, 503, 504])
const NO_ROOM = 507
const OF_ITS_TIMES: ReadonlySet<string | null> = new Set([null, BEFORE_PUT_UP, AFTER_TAKEN_DOWN])

export function startOfCard(total: number): CardProgress {
  const none = { fresh: 0, known: 0, unreadable: 0, doubtful: 0, failed: [], span: null }
  return { total, done: 0, ...none, waits: null, halted: null }
}

/** Resolves with the last progress: all done, halted, or stopped by the signal. */
export async function sendCard(
  files: readonly CardFile[],
  post: CardPost,
  { told, signal }: { readonly told: (progress: CardProgress) => void; readonly signal: AbortSignal },
): Promise<CardProgress> {
  let progress = startOfCard(files.length)
  const tellOf = (change: Partial<CardProgress>) => {
    progress = { ...progress, ...change }
    told(progress)
  }
  const isOver = () => signal.aborted || progress.halted !== null

  /** Until it goes through, is refused, or nobody wants it any more (null). */
  async function persist<T>(work: () => Promise<T>): Promise<T | null> {
    for (let tries = 0; !isOver(); tries += 1) {
      try {
        const answer = await work()
        if (progress.waits !== null) tellOf({ waits: null })
        return answer
      } catch (thrown) {
        const failure = failureOf(thrown)
        if (!(thrown instanceof Failed)) throw thrown
        if (failure.status === NO_ROOM) tellOf({ halted: failure, waits: null })
        else if (LATER.has(failure.status)) {
          tellOf({ waits: failure })
          await post.wait(WAITS_MS[Math.min(tries, WAITS_MS.length - 1)]!)
        } else throw thrown
      }
    }
    return null
  }

  const came = (photo: CardPhotoTold, isKnown: boolean) =>
    tellOf({ ...withPhoto(progress, photo, isKnown), done: progress.done + 1 })
  const failed = (path: string, thrown: unknown) =>
    tellOf({
      failed: [...progress.failed, { path, why: failureOf(thrown).what }],
      done: progress.done + 1,
    })

  async function sendOne({ file, bytes }: ReadFile): Promise<void> {
    try {
      const answer = await persist(() => post.send(file, bytes))
      if (answer !== null) came(answer.photo, answer.photo.known)
    } catch (thrown) {
      failed(file.path, thrown)
    }
  }

  for (let at = 0; at < files.length && !isOver(); at += FILES_AT_ONCE) {
    const read: ReadFile[] = []
    for (const file of files.slice(at, at + FILES_AT_ONCE)) {
      try {
        const bytes = await file.file.arrayBuffer()
        read.push({ file, bytes, hash: post.hashOf === null ? null : await post.hashOf(bytes) })
      } catch (thrown) {
        failed(file.path, thrown)
      }
    }
    const known = await knownOf(read)
    for (const { hash } of read) {
      const photo = hash === null ? undefined : known.get(hash)
      if (photo !== undefined) came(photo, true)
    }
    const fresh = read.filter(({ hash }) => hash === null || !known.has(hash))
    for (let i = 0; i < fresh.length && !isOver(); i += SENT_AT_ONCE)
      await Promise.all(fresh.slice(i, i + SENT_AT_ONCE).map(sendOne))
  }
  return progress

  async function knownOf(read: readonly ReadFile[]): Promise<ReadonlyMap<string, CardPhotoTold>> {
    const hashes = [...new Set(read.flatMap(({ hash }) => hash ?? []))]
    if (hashes.length === 0) return new Map()
    try {
      const answer = await persist(() => post.known(hashes))
      return new Map(answer?.known.map(({ hash, photo }) => [hash, photo]))
    } catch {
      // It only saves sending: what came before is known again by its bytes.
      return new Map()
    }
  }
}

interface ReadFile {
  readonly file: CardFile
  readonly bytes: ArrayBuffer
  readonly hash: string | null
}

function withPhoto(progress: CardProgress, photo: CardPhotoTold, isKnown: boolean): Partial<CardProgress> {
  const isUnreadable = photo.state === 'unreadable'
  const { takenAt, clockDoubt } = photo
  const told = !isUnreadable && OF_ITS_TIMES.has(clockDoubt)
  return {
    fresh: progress.fresh + (isKnown ? 0 : 1),
    known: progress.known + (isKnown ? 1 : 0),
    unreadable: progress.unreadable + (isUnreadable ? 1 : 0),
    doubtful: progress.doubtful + (clockDoubt === null ? 0 : 1),
    span: told ? widened(progress.span, takenAt) : progress.span,
  }
}

function widened(span: CardProgress['span'], at: string): CardProgress['span'] {
  if (span === null) return { first: at, last: at }
  return {
    first: Date.parse(at) < Date.parse(span.first) ? at : span.first,
    last: Date.parse(at) > Date.parse(span.last) ? at : span.last,
  }
}
