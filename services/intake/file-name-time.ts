/** A capture time in a file's name, as cameras, phones and FTP cameras write it. */
import type { WallTime } from '../station-time.ts'
import { readWallTime } from './wall-time.ts'

export interface NameTime {
  readonly wall: WallTime
  /** True where the name says Z: the time is UTC and not the camera's wall clock. */
  readonly utc: boolean
}

/**
 * Year, month, day, hour, minute, second, written together or with signs between; a few digits of a second may
 * follow. All six are asked for: a date alone has no time, and a run of digits alone (DSC01234) no date.
 */
const PATTERN =
  /(?<!\d)((?:19|20)\d\d)[-_.]?(\d\d)[-_.]?(\d\d)[-_. T]{0,3}(\d\d)[-_.:h]?(\d\d)[-_.:m]?(\d\d)(?:\d{3})?(Z)?(?!\d)/g

/** The capture time in a file name such as `IMG_20261124_213005.jpg` or `2026-11-24 21.30.05.jpg`; null where there is none. */
export function fileNameTime(fileName: string): NameTime | null {
  // Folders may be dated by whoever copied the card; only the name itself is the camera's.
  const name = fileName.split(/[/\\]/).at(-1) ?? ''
  for (const match of name.matchAll(PATTERN)) {
    const wall = readWallTime(match.slice(1, 7))
    if (wall !== null) return { wall, utc: match[7] === 'Z' }
  }
  return null
}
