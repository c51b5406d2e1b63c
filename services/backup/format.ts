/**
 * A backup is one tar file (POSIX.1-1988 ustar), read and written from front to back: `manifest.json`; the rows of each
 * table as PostgreSQL's COPY text, in parts; the photos' bytes; `end.json`. Every part carries the SHA-256 of its bytes
 * in its name, and the end one sum over all of them, so that a file cut short or changed anywhere is known.
 */
import { createHash } from 'node:crypto'
import { z } from 'zod'
import { Refusal } from '../refusal.ts'

export const FORMAT_VERSION = 1
export const MANIFEST = 'manifest.json'
export const END = 'end.json'
/** Rows are cut into parts of about this size: what is held in memory, whatever the size of a table. */
export const ROWS_PART_BYTES = 4 * 1024 * 1024
/** No part is larger: a photo has at most 30 MB, a part of rows one chunk of the database's more than its size. */
export const LARGEST_PART_BYTES = 64 * 1024 * 1024

const identifier = z.string().regex(/^[a-z_][a-z0-9_]{0,62}$/)
const wholeNumber = z.int().nonnegative()
const sha256 = z.string().regex(/^[0-9a-f]{64}$/)

export const manifestShape = z.strictObject({
  format: z.literal('hooftally backup'),
  formatVersion: wholeNumber,
  /** Of the Hooftally that wrote it. */
  program: z.string(),
  takenAt: z.iso.datetime(),
  station: z.string().nullable(),
  /** What the database had been through, in order. */
  migrations: z.array(z.string().regex(/^[\w-]{1,100}$/)).min(1),
  /** In an order in which rows may be put back. */
  tables: z.array(z.strictObject({ name: identifier, columns: z.array(identifier).min(1) })),
  /** The last number each has given out, so that none is ever given twice. */
  sequences: z.array(z.strictObject({ table: identifier, column: identifier, last: wholeNumber.nullable() })),
})
export type Manifest = z.output<typeof manifestShape>

export const endShape = z.strictObject({
  parts: wholeNumber,
  photos: wholeNumber,
  photoBytes: wholeNumber,
  previews: wholeNumber,
  /** Photos that the ledger says are kept and whose bytes were not there, or not as they came. */
  gone: wholeNumber,
  /** SHA-256 over the names of all parts, each with a line end. */
  sum: sha256,
})
export type End = z.output<typeof endShape>

export type PartName =
  | { readonly kind: 'rows'; readonly table: string; readonly sha256: string }
  | { readonly kind: 'photo'; readonly sha256: string }
  /** Of a photo whose own bytes are not kept any more. */
  | { readonly kind: 'preview'; readonly photo: string; readonly sha256: string }

export const rowsName = (table: string, part: number, sum: string): string =>
  `tables/${table}/${String(part).padStart(7, '0')}-${sum}`
export const photoName = (photo: string): string => `photos/${photo.slice(0, 2)}/${photo}`
export const previewName = (photo: string, sum: string): string => `previews/${photo}-${sum}`

/** What the name of a part says; null for a name that no backup has. */
export function readPartName(name: string): PartName | null {
  const rows = /^tables\/([a-z_][a-z0-9_]{0,62})\/\d{7}-([0-9a-f]{64})$/.exec(name)
  if (rows) return { kind: 'rows', table: rows[1]!, sha256: rows[2]! }
  const photo = /^photos\/[0-9a-f]{2}\/([0-9a-f]{64})$/.exec(name)
  if (photo) return { kind: 'photo', sha256: photo[1]! }
  const preview = /^previews\/([0-9a-f]{64})-([0-9a-f]{64})$/.exec(name)
  if (preview) return { kind: 'preview', photo: preview[1]!, sha256: preview[2]! }
  return null
}

export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}

/** The running sum over the names of the parts; the manifest counts as one, by a name that carries its hash. */
export function startSum(manifest: Uint8Array) {
  const sum = createHash('sha256').update(`${MANIFEST}-${sha256Of(manifest)}\n`)
  let parts = 0
  return {
    add(name: string): void {
      sum.update(`${name}\n`)
      parts += 1
    },
    end: () => ({ parts, sum: sum.digest('hex') }),
  }
}

export function noBackup(path: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `${path} is no backup made by Hooftally.`,
    field: 'FILE',
    remedy: 'Give the file that hooftally backup wrote. Nothing was changed.',
  })
}

export function damaged(path: string, what: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `${path} is damaged: ${what}. Nothing was put back.`,
    field: 'FILE',
    remedy: 'Copy the file again from where it was kept, or take an earlier backup.',
  })
}
