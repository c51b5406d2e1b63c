/** Which files of a drop folder have stopped changing. */
import type { Instant } from '../words.ts'
import { type FileStamp, isSame } from './list-dropped.ts'

export interface WatchedFile extends FileStamp {
  /** Since when it has looked as it does now. */
  readonly sinceAt: Instant
  /** As it looks now it was tried, and could not be read. */
  readonly reason: string | null
}

export type Watched = ReadonlyMap<string, WatchedFile>

/**
 * The files as they are watched from this list on. By our own clock, not by the files' times: those of a network folder
 * are another machine's. A clock that was set back begins anew.
 */
export function watchOn(before: Watched, files: readonly FileStamp[], now: Instant): Watched {
  return new Map(
    files.map((file) => {
      const known = before.get(file.path)
      const goesOn = known !== undefined && isSame(known, file) && known.sinceAt <= now
      return [file.path, goesOn ? known : { ...file, sinceAt: now, reason: null }]
    }),
  )
}

/**
 * Those to be read now: unchanged for `quietMs` and not tried yet, or for `patienceMs`, when the last try is due
 * whatever came of the first.
 */
export function toRead(
  watched: Watched,
  {
    now,
    quietMs,
    patienceMs,
  }: { readonly now: Instant; readonly quietMs: number; readonly patienceMs: number },
): WatchedFile[] {
  return [...watched.values()].filter(({ sinceAt, reason }) => {
    const quiet = now - sinceAt
    return reason === null ? quiet >= quietMs : quiet >= patienceMs
  })
}
