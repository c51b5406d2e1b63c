/** Makes the files of the demo's past: a rendered still, smaller, with the time its camera would have written. */
import { createHash } from 'node:crypto'
import { join } from 'node:path'
import sharp from 'sharp'
import { demoStillsFolder } from '../paths.ts'
import { toStationTime } from '../station-time.ts'
import type { Instant } from '../words.ts'
import { withExif } from './exif-segment.ts'
import type { DemoStill } from './schedule.ts'
import { demoPoint, demoZone } from './station.ts'

/** Small enough for a past of many stills; tried on all sources: the eye counts as many right as at full size. */
const WIDTH_PX = 960
const JPEG_QUALITY = 82
/** How much of a file arrives when the line drops. */
const TRUNCATED_SHARE = 0.6

export interface DemoFile {
  readonly fileName: string
  readonly bytes: Buffer
}

/**
 * A maker of the schedule's files. Each source is reduced once and kept in memory (some 11 MB for all), so that a
 * still costs a copy. Different items of a schedule never give the same bytes; the same item always does.
 */
export function createStillMaker(folder: string = demoStillsFolder): (still: DemoStill) => Promise<DemoFile> {
  const reduced = new Map<string, Promise<Buffer>>()
  return async (still) => {
    const pixels = reduced.get(still.source) ?? reduce(join(folder, still.source))
    reduced.set(still.source, pixels)
    const { camera, name } = demoPoint(still.pointKey)
    const clock = toStationTime((still.at - camera.clockErrorSeconds * 1000) as Instant, demoZone)
    const whole = withExif(await pixels, {
      dateTimeOriginal: clock.slice(0, 19).replaceAll('-', ':').replace('T', ' '),
      offsetTimeOriginal: camera.writesOffset ? clock.slice(19) : null,
      imageUniqueId: createHash('sha256').update(`${still.pointKey}/${still.at}`).digest('hex').slice(0, 32),
    })
    return { fileName: fileNameOf(name, clock), bytes: asItArrived(whole, { still, clock }) }
  }
}

function reduce(file: string): Promise<Buffer> {
  return sharp(file).resize({ width: WIDTH_PX }).jpeg({ quality: JPEG_QUALITY }).toBuffer()
}

function asItArrived(whole: Buffer, { still, clock }: { still: DemoStill; clock: string }): Buffer {
  switch (still.broken) {
    case null:
      return whole
    case 'truncated':
      return whole.subarray(0, Math.round(whole.length * TRUNCATED_SHARE))
    case 'not an image':
      return Buffer.from(`ERROR 28: timed out while sending the photo of ${clock}\r\n`)
    case 'empty':
      return Buffer.alloc(0)
  }
}

/** Dated by the camera's clock, as cameras that send name their files: `KB_20261124_213005.jpg`. */
function fileNameOf(pointName: string, clock: string): string {
  const initials = pointName.split(' ').map((word) => word[0])
  return `${initials.join('')}_${clock.slice(0, 19).replaceAll(/[-:]/g, '').replace('T', '_')}.jpg`
}
