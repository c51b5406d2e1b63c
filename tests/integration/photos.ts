/** Photos to send: the demo's stills, smaller, each with a capture time that makes it a photo of its own. */
import { createHash } from 'node:crypto'
import { join } from 'node:path'
import sharp from 'sharp'
import { withExif } from '../../services/demo/exif-segment.ts'
import { demoStillsFolder } from '../../services/paths.ts'

/** Large enough that the eye finds the animals, small enough that a test file stays quick. */
const WIDTH_PX = 960

const reduced = new Map<string, Promise<Buffer>>()

/** A demo still without EXIF. */
export function plainPhoto(source: string): Promise<Buffer> {
  const known = reduced.get(source)
  if (known !== undefined) return known
  const bytes = sharp(join(demoStillsFolder, source))
    .resize({ width: WIDTH_PX })
    .jpeg({ quality: 82 })
    .toBuffer()
  reduced.set(source, bytes)
  return bytes
}

/** A demo still whose EXIF says it was taken at `takenAt`, `2026-11-24T21:30:05+10:30`. */
export async function photoTakenAt(source: string, takenAt: string): Promise<Buffer> {
  return withExif(await plainPhoto(source), {
    dateTimeOriginal: takenAt.slice(0, 19).replaceAll('-', ':').replace('T', ' '),
    offsetTimeOriginal: takenAt.slice(19) || null,
    imageUniqueId: createHash('sha256').update(`${source} ${takenAt}`).digest('hex').slice(0, 32),
  })
}
