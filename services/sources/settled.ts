/** Which files of a drop folder have stopped changing. */
import type { Instant } from '../words.ts'
import { type FileStamp, isSame } from './list-dropped.ts'

export interface WatchedFile extends FileStamp {
  /** For how long it has been seen to look as it does now. */
  readonly quietMs: number
  /** Why it could not be read when it was tried as it looks now; null where it was not tried. */
  readonly reason: string | null
}

export interface Watched {
  /** When it was looked last; null before the first look. */
  readonly at: Instant | null
  readonly files: ReadonlyMap<string, WatchedFile>
}

export const NOTHING_WATCHED: Watched = { at: null, files: new Map() }

/** Looks come every some seconds. A clock that was set, or a machine that slept, has not seen the file all that time. */
const MOST_BETWEEN_LOOKS_MS = 60_000

/**
 * The files as they are watched from this list on. By our own clock, not by the files' times: those of a network folder
 * are another machine's.
 */
export function watchOn(before: Watched, files: readonly FileStamp[], now: Instant): Watched {
  const passedMs = before.at === null ? 0 : Math.min(MOST_BETWEEN_LOOKS_MS, Math.max(0, now - before.at))
  const watched = files.map((file): [string, WatchedFile] => {
    const known = before.files.get(file.path)
    return known !== undefined && isSame(known, file)
      ? [file.path, { ...known, quietMs: known.quietMs + passedMs }]
      : [file.path, { ...file, quietMs: 0, reason: null }]
  })
  return { at: now, files: new Map(watched) }
}

/**
 * Those to be read now: unchanged for `quietMs` and not tried yet, or for `patienceMs`, when the last try is due
 * whatever came of the first.
 */
export function toRead(
  { files }: Watched,
  { quietMs, patienceMs }: { readonly quietMs: number; readonly patienceMs: number },
): WatchedFile[] {
  return [...files.values()].filter((file) => file.quietMs >= (file.reason === null ? quietMs : patienceMs))
}
