/** Pictures in two sizes. A still's bytes never change, so a browser may keep them for good. */
import { randomUUID } from 'node:crypto'
import { mkdir, rename, rm, stat, writeFile } from 'node:fs/promises'
import { basename, dirname } from 'node:path'
import type { Request, Response } from 'express'
import sharp from 'sharp'
import { Refusal } from '../refusal.ts'
import type { StillFiles } from '../store/still-files.ts'

export const SMALL_LONGEST_SIDE_PX = 640
const SMALL_QUALITY = 62
const KEEP_FOR_GOOD = 'private, max-age=31536000, immutable'
const TYPES: Readonly<Record<string, string>> = { jpeg: 'image/jpeg', png: 'image/png', webp: 'image/webp' }

interface KeptStill {
  readonly id: number
  readonly hash: Buffer
  readonly format: string | null
  readonly state: string
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
  if (still.state === 'unreadable') throw noPicture(still.id)
  // Bytes the eye has not survived yet are not decoded in this process: the browser shows them as they came.
  // Not for good: this address will hold the small one.
  if (still.state === 'received') return await sendWhole(files, still, { request, response, forNow: true })
  if (unchanged(request, response, { tag: `${still.hash.toString('hex')}-small`, keep: KEEP_FOR_GOOD }))
    return
  const path = files.previewPathOf(still.hash)
  const there = await stat(path).catch(() => null)
  if (there === null) await makeSmall(files, still, path)
  await send(response, path, 'image/webp')
}

/** The bytes as they came. What is unreadable is offered as a file, never shown as a page. */
export async function sendWhole(
  files: StillFiles,
  still: KeptStill,
  { request, response, forNow = false }: Exchange,
): Promise<void> {
  if (
    unchanged(request, response, {
      tag: still.hash.toString('hex'),
      keep: forNow ? 'no-cache' : KEEP_FOR_GOOD,
    })
  )
    return
  const type = still.format === null ? undefined : TYPES[still.format]
  if (type === undefined) response.set('Content-Disposition', `attachment; filename="photo-${still.id}.bin"`)
  await send(response, files.pathOf(still.hash), type ?? 'application/octet-stream')
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

async function makeSmall(files: StillFiles, still: KeptStill, path: string): Promise<void> {
  let small: Buffer
  try {
    small = await sharp(files.pathOf(still.hash), { autoOrient: true })
      .resize(SMALL_LONGEST_SIDE_PX, SMALL_LONGEST_SIDE_PX, { fit: 'inside', withoutEnlargement: true })
      .webp({ quality: SMALL_QUALITY, effort: 2 })
      .toBuffer()
  } catch {
    throw noPicture(still.id)
  }
  await mkdir(dirname(path), { recursive: true })
  const part = `${path}.${randomUUID()}.part`
  try {
    await writeFile(part, small)
    await rename(part, path)
  } finally {
    await rm(part, { force: true })
  }
}

function send(response: Response, path: string, type: string): Promise<void> {
  return new Promise((resolve, reject) => {
    response.type(type)
    response.sendFile(
      path,
      // No ranges: an odd one would be a fault, and no photo is so large that a part of it helps.
      { acceptRanges: false, cacheControl: false, etag: false, lastModified: false, dotfiles: 'allow' },
      (fault) => {
        // A reader that went away is no fault of ours.
        const code = fault && 'code' in fault ? fault.code : null
        if (!fault || code === 'ECONNABORTED') resolve()
        else reject(code === 'ENOENT' ? bytesGone(path) : fault)
      },
    )
  })
}

function bytesGone(path: string): Refusal {
  return new Refusal({
    kind: 'not found',
    detail: `The photo's file ${basename(path)} is not in the data folder any more.`,
    field: 'id',
    remedy: 'Put it back from a copy of the data folder: the service itself never removes a photo.',
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
