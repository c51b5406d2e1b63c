/** Reads the photos out of a request: the whole body as one photo, or the files of a multipart form (RFC 7578). */
import busboy from 'busboy'
import type { Request } from 'express'
import { MAX_STILL_BYTES, tooLarge } from '../intake/receive-still.ts'
import { Refusal } from '../refusal.ts'
import { type Hold, LEAST_BYTES_IN_PATIENCE, noRoomNow, tooSlow } from './receiving.ts'

export interface SentPhoto {
  readonly bytes: Buffer
  readonly fileName: string | null
}

export interface SentPhotos {
  readonly photos: readonly SentPhoto[]
  /** Form fields, or nothing for a raw body. */
  readonly fields: Readonly<Record<string, string>>
}

const MAX_FILES = 20
const MAX_FIELD_BYTES = 1_000
/** Set aside for a photo whose sender does not say how large it is; doubled as it comes. */
const FIRST_BYTES = 128 * 1024
const NONE = Buffer.alloc(0)

const isForm = (request: Request) => Boolean(request.is('multipart/form-data'))

/** What the sender says it will send; null where it does not. @throws Refusal where that is too large for a photo */
export function declaredBytes(request: Request): number | null {
  const length = request.get('content-length')
  if (length === undefined) return null
  if (!isForm(request) && Number(length) > MAX_STILL_BYTES) throw tooLarge(Number(length))
  return Number(length)
}

/**
 * All photos of a request, whole.
 * @throws Refusal: too large, no form, no room for more, too slow, or ended too early
 */
export async function readPhotos(
  request: Request,
  { hold, patienceMs }: { readonly hold: Hold; readonly patienceMs: number },
): Promise<SentPhotos> {
  if (request.destroyed) throw endedTooEarly()
  const enough = new AbortController()
  let received = 0
  let receivedBefore = 0
  // One that is turned away sends on for a while: that is thrown away as it comes, and not counted.
  const count = (chunk: Buffer) => {
    received += chunk.length
    if (!enough.signal.aborted && !hold.reaches(received)) enough.abort(noRoomNow())
  }
  const judge = () => {
    if (received - receivedBefore < LEAST_BYTES_IN_PATIENCE) enough.abort(tooSlow())
    receivedBefore = received
  }
  // After what lies ready to be read: where the service itself was held up, its senders are not to blame.
  const patience = setInterval(() => setImmediate(judge), patienceMs)
  request.on('data', count)
  try {
    return await (isForm(request) ? readForm(request, enough.signal) : readRaw(request, enough.signal))
  } finally {
    clearInterval(patience)
    request.off('data', count)
  }
}

function readRaw(request: Request, enough: AbortSignal): Promise<SentPhotos> {
  return new Promise((resolve, reject) => {
    // One piece of memory instead of many: what a slow link brings comes in hundreds of small ones.
    let bytes = Buffer.allocUnsafeSlow(declaredBytes(request) ?? FIRST_BYTES)
    let size = 0
    const take = (chunk: Buffer) => {
      const end = size + chunk.length
      if (end > MAX_STILL_BYTES) return refuse(tooLarge(end))
      if (end > bytes.length) bytes = Buffer.concat([bytes.subarray(0, size)], Math.max(end, 2 * size))
      chunk.copy(bytes, size)
      size = end
    }
    const refuse = (refusal: unknown) => {
      request.off('data', take)
      // The rest is let run out, so that the sender reads why.
      request.resume()
      bytes = NONE
      reject(refusal)
    }
    enough.addEventListener('abort', () => refuse(enough.reason))
    request.on('data', take)
    request.on('error', () => refuse(endedTooEarly()))
    request.on('end', () => {
      const name = request.get('x-file-name')
      const fileName = name ? withoutNul(decodeName(name)) : null
      resolve({ photos: [{ bytes: bytes.subarray(0, size), fileName }], fields: {} })
      bytes = NONE
    })
  })
}

function decodeName(name: string): string {
  try {
    return decodeURIComponent(name)
  } catch {
    return name
  }
}

/** PostgreSQL's text cannot hold a NUL, and a name must not keep a photo out. */
function withoutNul(name: string): string {
  return name.replaceAll('\0', '')
}

function readForm(request: Request, enough: AbortSignal): Promise<SentPhotos> {
  return new Promise((resolve, reject) => {
    const photos: SentPhoto[] = []
    const fields: Record<string, string> = {}
    const leftEarly = () => refuse(endedTooEarly())
    const refuse = (refusal: unknown) => {
      request.unpipe(form)
      request.resume()
      // While the rest runs out, nothing may hold what has come.
      request.off('error', leftEarly).on('error', () => undefined)
      photos.length = 0
      reject(refusal)
    }
    let form: ReturnType<typeof busboy>
    try {
      form = busboy({
        headers: request.headers,
        defParamCharset: 'utf8',
        limits: { fileSize: MAX_STILL_BYTES, files: MAX_FILES, fieldSize: MAX_FIELD_BYTES, fields: 20 },
      })
    } catch (fault) {
      return reject(badForm(fault))
    }
    form.on('file', (_field, stream, { filename }) => {
      const chunks: Buffer[] = []
      stream.on('data', (chunk: Buffer) => chunks.push(chunk))
      stream.on('limit', () => refuse(tooLarge(MAX_STILL_BYTES)))
      stream.on('end', () =>
        photos.push({ bytes: Buffer.concat(chunks), fileName: withoutNul(filename ?? '') || null }),
      )
      stream.on('error', (fault) => refuse(badForm(fault)))
    })
    form.on('field', (name, value) => {
      fields[name] = value
    })
    form.on('filesLimit', () =>
      refuse(
        new Refusal({
          kind: 'too large',
          detail: `One request may carry at most ${MAX_FILES} photos.`,
          field: 'body',
          remedy: 'Send the photos in several requests.',
        }),
      ),
    )
    form.on('error', (fault) => refuse(badForm(fault)))
    form.on('close', () => resolve({ photos, fields }))
    enough.addEventListener('abort', () => refuse(enough.reason))
    request.on('error', leftEarly)
    request.pipe(form)
  })
}

/** Nobody hears it; it keeps a link that broke from looking like a fault of the service. */
function endedTooEarly(): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: 'The connection ended before the photo was whole.',
    field: 'body',
    remedy: 'Send it again.',
  })
}

function badForm(fault: unknown): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `The form could not be read: ${fault instanceof Error ? fault.message : String(fault)}.`,
    field: 'body',
    remedy: 'Send the photo as a multipart/form-data file, or as the raw body of the request.',
  })
}
