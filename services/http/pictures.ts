/** Pictures in two sizes. A still's bytes never change, so a browser may keep them for good. */
import type { Request, Response } from 'express'
import { Refusal } from '../refusal.ts'
import { smallOf } from '../store/small-picture.ts'
import type { StillFiles } from '../store/still-files.ts'
import type { Kept } from '../tally/keeping.ts'

const KEEP_FOR_GOOD = 'private, max-age=31536000, immutable'
const TYPES: Readonly<Record<string, string>> = { jpeg: 'image/jpeg', png: 'image/png', webp: 'image/webp' }

interface KeptStill {
  readonly id: number
  readonly hash: Buffer
  readonly format: string | null
  readonly state: string
  readonly kept: Kept
}

interface Exchange {
  readonly request: Request
  readonly response: Response
  /** The address will answer otherwise later. */
  readonly forNow?: boolean
}

/** The small preview, made on first asking and kept. */
export async function sendSmall(
  files: StillFiles,
  still: KeptStill,
  { request, response }: Exchange,
): Promise<void> {
  if (still.kept === 'none') throw noLongerKept(still.id)
  if (still.state === 'unreadable') throw noPicture(still.id)
  // Bytes the eye has not survived yet are not decoded in this process: the browser shows them as they came.
  // Not for good: this address will hold the small one.
  if (still.state === 'received') return await sendWhole(files, still, { request, response, forNow: true })
  if (unchanged(request, response, { tag: `${still.hash.toString('hex')}-small`, keep: KEEP_FOR_GOOD }))
    return
  response.type('image/webp').send((await files.readSmall(still.hash)) ?? (await makeSmall(files, still)))
}

/**
 * The bytes as they came, or the small picture where only that is kept. What is unreadable is offered as a file, never
 * shown as a page.
 */
export async function sendWhole(
  files: StillFiles,
  still: KeptStill,
  { request, response, forNow = false }: Exchange,
): Promise<void> {
  if (still.kept === 'none') throw noLongerKept(still.id)
  if (still.kept === 'small') return await sendSmall(files, still, { request, response })
  if (
    unchanged(request, response, {
      tag: still.hash.toString('hex'),
      keep: forNow ? 'no-cache' : KEEP_FOR_GOOD,
    })
  )
    return
  const bytes = await wholeOf(files, still)
  const type = still.format === null ? undefined : TYPES[still.format]
  if (type === undefined) response.set('Content-Disposition', `attachment; filename="photo-${still.id}.bin"`)
  // No ranges: an odd one would be a fault, and no photo is so large that a part of it helps.
  response.type(type ?? 'application/octet-stream').send(bytes)
}

function unchanged(
  request: Request,
  response: Response,
  { tag, keep }: { readonly tag: string; readonly keep: string },
): boolean {
  response.set({ ETag: `"${tag}"`, 'Cache-Control': keep, 'X-Content-Type-Options': 'nosniff' })
  if (!request.fresh) return false
  response.status(304).end()
  return true
}

async function makeSmall(files: StillFiles, still: KeptStill): Promise<Buffer> {
  const whole = await wholeOf(files, still)
  const small = await smallOf(whole)
  if (small === null) throw noPicture(still.id)
  // Kept for the next one who looks; a full disk must not hide a photo that can be shown.
  await files.keepSmall(still.hash, small).catch(() => undefined)
  return small
}

async function wholeOf(files: StillFiles, still: KeptStill): Promise<Buffer> {
  const bytes = await files.read(still.hash)
  if (bytes !== null) return bytes
  throw new Refusal({
    kind: 'not found',
    detail: `The bytes of photo ${still.id} are not in the data folder any more, or not as they came.`,
    field: 'id',
    remedy: 'Put them back from a copy of the data folder.',
  })
}

function noPicture(id: number): Refusal {
  return new Refusal({
    kind: 'not found',
    detail: `Photo ${id} cannot be shown: it could not be read.`,
    field: 'id',
    remedy: 'Its bytes are kept: get them from its /full address.',
  })
}

function noLongerKept(id: number): Refusal {
  return new Refusal({
    kind: 'not found',
    detail: `The picture of photo ${id} is no longer kept: it was empty and went by the station's rule.`,
    field: 'id',
    remedy:
      'What was seen on it is still there. How long pictures stay is set under Keeping photos in Set-up.',
  })
}
