/** Reads the photos out of a request: the whole body as one photo, or the files of a multipart form (RFC 7578). */
import busboy from 'busboy'
import type { Request } from 'express'
import { MAX_STILL_BYTES, tooLarge } from '../intake/receive-still.ts'
import { Refusal } from '../refusal.ts'

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

export async function readPhotos(request: Request): Promise<SentPhotos> {
  return request.is('multipart/form-data') ? await readForm(request) : await readRaw(request)
}

async function readRaw(request: Request): Promise<SentPhotos> {
  const declared = Number(request.get('content-length') ?? 0)
  if (declared > MAX_STILL_BYTES) throw tooLarge(declared)
  const chunks: Buffer[] = []
  let size = 0
  for await (const chunk of request as AsyncIterable<Buffer>) {
    size += chunk.length
    if (size > MAX_STILL_BYTES) throw tooLarge(size)
    chunks.push(chunk)
  }
  const name = request.get('x-file-name')
  return {
    photos: [{ bytes: Buffer.concat(chunks), fileName: name ? withoutNul(decodeName(name)) : null }],
    fields: {},
  }
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

function readForm(request: Request): Promise<SentPhotos> {
  return new Promise((resolve, reject) => {
    const photos: SentPhoto[] = []
    const fields: Record<string, string> = {}
    const refuse = (refusal: Error) => {
      request.unpipe(form)
      request.resume()
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
    request.on('aborted', () => refuse(badForm(new Error('the connection ended too early'))))
    request.pipe(form)
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
