/** When a still says it was taken: its EXIF tags, read and never trusted to be whole. */
import exifr from 'exifr'
import sharp from 'sharp'
import { z } from 'zod'
import type { WallTime } from '../station-time.ts'
import { readWallTime } from './wall-time.ts'

export interface CaptureTags {
  /** The camera's clock when the still was taken, without a zone; null where no tag says it. */
  readonly taken: WallTime | null
  /** Minutes east of UTC by the camera's own word, -840 to 840; null where it does not say. */
  readonly offsetMinutes: number | null
  /** What was wrong with the tags, in words; null where nothing was. */
  readonly fault: string | null
}

const NOTHING: CaptureTags = { taken: null, offsetMinutes: null, fault: null }
/** Exif 2.31 (CIPA DC-008-2016), section 4.6.5 F: each date has an offset tag of its own. `CreateDate` is DateTimeDigitized. */
const PAIRS = [
  { date: 'DateTimeOriginal', offset: 'OffsetTimeOriginal' },
  { date: 'CreateDate', offset: 'OffsetTimeDigitized' },
] as const
/** Clocks on land run from UTC-12 to UTC+14; anything past 14 hours is a fault (IANA time zone database). */
const MAX_OFFSET_MINUTES = 14 * 60

const tag = z.string().optional().catch(undefined)
const tagsShape = z.object({
  DateTimeOriginal: tag,
  OffsetTimeOriginal: tag,
  CreateDate: tag,
  OffsetTimeDigitized: tag,
  errors: z.array(z.unknown()).optional(),
})

/**
 * The capture time in a still's EXIF: `DateTimeOriginal`, else `CreateDate`, each with its own offset tag
 * (Exif 2.31). Never throws: broken or absent tags are null, and `fault` says what was wrong.
 */
export async function readCapture(bytes: Buffer): Promise<CaptureTags> {
  let written: unknown
  try {
    const readable = await readableByExifr(bytes)
    if (readable === null) return NOTHING
    written = await exifr.parse(readable, {
      // exifr would turn `2026:11:24 21:30:05` into a Date in this machine's zone, which is nobody's.
      reviveValues: false,
      translateValues: false,
      pick: PAIRS.flatMap((pair) => [pair.date, pair.offset]),
    })
  } catch {
    return { ...NOTHING, fault: 'its EXIF could not be read' }
  }
  if (written === undefined || written === null) return NOTHING
  const parsed = tagsShape.safeParse(written)
  if (!parsed.success) return { ...NOTHING, fault: 'its EXIF could not be read' }
  return firstGoodDate(parsed.data)
}

function firstGoodDate(tags: z.infer<typeof tagsShape>): CaptureTags {
  let fault = tags.errors === undefined ? null : 'its EXIF could not be read to the end'
  for (const pair of PAIRS) {
    const date = inWriting(tags[pair.date])
    if (date === null) continue
    const taken = readDate(date)
    if (taken === null) {
      fault ??= `its EXIF date (${date.slice(0, 30)}) is not a date`
      continue
    }
    const offset = inWriting(tags[pair.offset])
    const offsetMinutes = offset === null ? null : readOffset(offset)
    if (offset !== null && offsetMinutes === null)
      fault ??= `its EXIF offset (${offset.slice(0, 12)}) is not an offset`
    return { taken, offsetMinutes, fault }
  }
  return { ...NOTHING, fault }
}

/** The text of a tag; null when it is not there or left blank (Exif 2.31: unknown is written as spaces between colons). */
function inWriting(value: string | undefined): string | null {
  const text = (value ?? '').replaceAll('\0', ' ').trim()
  return /[^\s:]/.test(text) ? text : null
}

/** `2026:11:24 21:30:05`; some cameras write the date with other signs between the numbers. */
function readDate(text: string): WallTime | null {
  const parts = /^(\d{4})[:\-/.](\d{2})[:\-/.](\d{2})[ T](\d{2}):(\d{2}):(\d{2})/.exec(text)
  return parts === null ? null : readWallTime(parts.slice(1, 7))
}

/** `+10:30` as minutes, 630. */
function readOffset(text: string): number | null {
  const parts = /^([+-])(\d{2}):?(\d{2})$/.exec(text)
  if (parts === null) return null
  const minutes = Number(parts[2]) * 60 + Number(parts[3])
  if (Number(parts[3]) > 59 || minutes > MAX_OFFSET_MINUTES) return null
  return parts[1] === '-' ? 0 - minutes : minutes
}

/** The part that exifr can read: JPEG as it is; from WebP and PNG the EXIF block, which sharp finds; null where there is none. */
async function readableByExifr(bytes: Buffer): Promise<Buffer | null> {
  if (bytes.length === 0) return null
  const isWebp = bytes.toString('latin1', 0, 4) === 'RIFF' && bytes.toString('latin1', 8, 12) === 'WEBP'
  const isPng = bytes.toString('latin1', 0, 4) === '\x89PNG'
  if (!isWebp && !isPng) return bytes
  const { exif } = await sharp(bytes, { limitInputPixels: false }).metadata()
  if (exif === undefined) return null
  // libvips keeps JPEG's prefix in WebP and not in PNG; exifr wants the bare TIFF structure.
  return exif.toString('latin1', 0, 4) === 'Exif' ? exif.subarray(6) : exif
}
