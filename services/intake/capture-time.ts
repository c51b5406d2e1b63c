/** When a still was taken: the best of what it carries and what came with it, corrected, and doubted where due. */
import { toStationTime, type WallTime, wallToInstant } from '../station-time.ts'
import type { Instant, TakenFrom, Zone } from '../words.ts'
import { ownDoubt } from './clock-doubt.ts'
import type { CaptureTags } from './exif.ts'
import { fileNameTime } from './file-name-time.ts'

export interface CaptureClues {
  /** From `readCapture`. */
  readonly tags: CaptureTags
  /** The capture time that the sender gave beside the bytes, or null. */
  readonly senderAt: Instant | null
  readonly fileName: string | null
  /** The date of the mail that brought it; absent where none did. */
  readonly mailAt?: Instant | null | undefined
  /** When the file was last written, or null for bytes that came without a file. */
  readonly fileTime: Instant | null
  readonly arrivedAt: Instant
  /** The camera's own, else the station's. */
  readonly zone: Zone
  /** Added to what the camera's clock says gives true time. */
  readonly clockErrorSeconds: number
}

export interface CaptureTime {
  readonly takenAt: Instant
  readonly takenFrom: TakenFrom
  /** What speaks against the clock by itself, in words for a person; null where nothing does. */
  readonly ownDoubt: string | null
}

/** Nights and days have years of four digits, those of the day after too. */
const FIRST_AT = Date.parse('0001-01-01T00:00:00Z')
const END_AT = Date.parse('9999-01-01T00:00:00Z')

/** A time as some clock said it, before any correction. */
interface Said {
  readonly at: Instant
  readonly from: TakenFrom
  /** The camera's clock errs as the owner knows; other people's clocks do not err with it. */
  readonly byCamera: boolean
  /** `YYYY-MM-DD` on that clock; in the camera's zone and in UTC where it may keep either. */
  readonly dates: readonly string[]
}

/**
 * The time of a still, in order of trust: EXIF with its offset (Exif 2.31), EXIF in the camera's zone, the sender's
 * word, a date in the file name, the date of its mail, file time, arrival. A doubtful time is still given: it is flagged, not lost. One that
 * no calendar here can hold (past the year 9998) gives way to arrival and stays in doubt.
 */
export function captureTime(clues: CaptureClues): CaptureTime {
  const said = firstSaid(clues)
  const takenAt = said.byCamera ? plusSeconds(said.at, clues.clockErrorSeconds) : said.at
  const doubt = ownDoubt({
    takenAt,
    // A factory date shows on the clock as it stood, before the known error is taken out.
    saidDates: said.dates,
    arrivedAt: clues.arrivedAt,
  })
  if (isHeld(takenAt)) return { takenAt, takenFrom: said.from, ownDoubt: doubt }
  return { takenAt: clues.arrivedAt, takenFrom: 'arrival', ownDoubt: doubt }
}

function firstSaid({ tags, senderAt, fileName, mailAt, fileTime, arrivedAt, zone }: CaptureClues): Said {
  const byWall = (wall: WallTime, at: Instant, from: TakenFrom): Said => {
    return { at, from, byCamera: true, dates: [dateOn(wall)] }
  }
  if (tags.taken !== null && tags.offsetMinutes !== null)
    return byWall(tags.taken, atOffset(tags.taken, tags.offsetMinutes), 'exif with offset')
  if (tags.taken !== null) return byWall(tags.taken, inZone(tags.taken, zone), 'exif')
  // Someone set this time for this still; a name may be a copy's or a series'. EXIF was written at the shutter.
  if (senderAt !== null)
    return { at: senderAt, from: 'sender', byCamera: false, dates: datesOf(senderAt, zone) }
  const named = fileName === null ? null : fileNameTime(fileName)
  if (named !== null)
    return byWall(named.wall, named.utc ? atOffset(named.wall, 0) : inZone(named.wall, zone), 'file name')
  // Whatever sent the mail wrote it, some time after the shutter; whose clock that was, nobody can tell.
  if (mailAt != null) return { at: mailAt, from: 'mail date', byCamera: false, dates: datesOf(mailAt, zone) }
  // The camera wrote the file, by its own clock. Where a copy wrote it anew the time is wrong with or without this.
  if (fileTime !== null)
    return { at: fileTime, from: 'file time', byCamera: true, dates: datesOf(fileTime, zone) }
  return { at: arrivedAt, from: 'arrival', byCamera: false, dates: [] }
}

/**
 * A wall time that came twice (clocks set back) is taken as the earlier, and one that never came (clocks set forward)
 * as the zone's rules carry it on: an hour's uncertainty at most, so neither is a doubt that keeps a still from its visit.
 */
function inZone(wall: WallTime, zone: Zone): Instant {
  return wallToInstant(wall, zone).at
}

function dateOn({ year, month, day }: WallTime): string {
  return new Date(Date.UTC(year, month - 1, day)).toISOString().slice(0, 10)
}

function isHeld(at: Instant): boolean {
  return at >= FIRST_AT && at < END_AT
}

function datesOf(at: Instant, zone: Zone): readonly string[] {
  if (!isHeld(at)) return []
  return [toStationTime(at, zone).slice(0, 10), new Date(at).toISOString().slice(0, 10)]
}

function atOffset(wall: WallTime, offsetMinutes: number): Instant {
  const { year, month, day, hour, minute, second } = wall
  return (Date.UTC(year, month - 1, day, hour, minute, second) - offsetMinutes * 60_000) as Instant
}

function plusSeconds(at: Instant, seconds: number): Instant {
  return (at + Math.round(seconds * 1000)) as Instant
}
