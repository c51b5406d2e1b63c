/** The stills' bytes, named by their SHA-256, wherever they lie: a folder (still-folder.ts) or a bucket (still-bucket.ts). */
import { createHash } from 'node:crypto'
import type { StillSource } from '../../worker/messages.ts'

/**
 * What is there is whole, or not there at all. Every method may throw a Refusal: `unavailable` when the place of the
 * bytes does not answer (the same call may go through later), `no room` when it is full.
 */
export interface StillFiles {
  readonly kind: 'folder' | 'bucket'
  /** Keeps the bytes; once it returns they survive a power cut. Doing it again changes nothing. */
  keep(hash: Buffer, bytes: Buffer): Promise<void>
  /** The bytes, proved by their hash; null where they are not, or not as they came. */
  read(hash: Buffer): Promise<Buffer | null>
  /** The bytes for the eye. @throws Error where they are gone. */
  sourceOf(hash: Buffer): Promise<StillSource>
  /** An address from which anyone can fetch the bytes for so many seconds; null where there is none. */
  linkOf(hash: Buffer, seconds: number): Promise<string | null>
  /** Keeps the small preview (WebP); once it returns it survives a power cut. One that is there is replaced. */
  keepSmall(hash: Buffer, bytes: Buffer): Promise<void>
  readSmall(hash: Buffer): Promise<Buffer | null>
  /** Removes the bytes as they came and leaves the preview. What is not there is no fault. */
  dropWhole(hash: Buffer): Promise<void>
  /** Removes the bytes and the preview. */
  drop(hash: Buffer): Promise<void>
  /** Whether the place answers and takes bytes, in words for a person. */
  health(): Promise<FilesHealth>
  /** Lets go of connections. */
  close(): void
}

export interface FilesHealth {
  readonly ok: boolean
  readonly detail: string
}

export interface BucketPlace {
  readonly bucket: string
  /** Without a slash at its ends; empty for none. */
  readonly prefix: string
  /** Of a store that is not Amazon's; asked path-style, as such a store seldom has a name for each bucket. */
  readonly endpoint: string | undefined
}

/** `s3://bucket/prefix`, and the endpoint where it is not Amazon's. */
export function bucketInWords({ bucket, prefix, endpoint }: BucketPlace): string {
  return `s3://${bucket}${prefix === '' ? '' : `/${prefix}`}${endpoint === undefined ? '' : ` at ${endpoint}`}`
}

/** Where a still lies below the folder or the prefix: the same in both, so that one can be copied to the other. */
export function placeOf(size: 'whole' | 'small', hash: Buffer): string {
  const name = hash.toString('hex')
  return `${size}/${name.slice(0, 2)}/${name}${size === 'small' ? '.webp' : ''}`
}

export function isWhole(hash: Buffer, bytes: Buffer): boolean {
  return createHash('sha256').update(bytes).digest().equals(hash)
}

export function bytesGone(hash: Buffer): Error {
  return new Error(`the bytes ${hash.toString('hex')} are not where the photos lie`)
}
