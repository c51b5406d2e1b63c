/**
 * The stills' bytes in S3-compatible storage. A put is whole or not there at all, and is answered once it is durable
 * (Amazon S3 User Guide, "data consistency model"); the SHA-256 that names the bytes goes along, so that the store
 * itself refuses what was changed on the way.
 */
import {
  DeleteObjectCommand,
  GetObjectCommand,
  HeadBucketCommand,
  PutObjectCommand,
  S3Client,
  S3ServiceException,
} from '@aws-sdk/client-s3'
import { getSignedUrl } from '@aws-sdk/s3-request-presigner'
import { Refusal } from '../refusal.ts'
import {
  type BucketPlace,
  bucketInWords,
  bytesGone,
  isWhole,
  placeOf,
  type StillFiles,
} from './still-files.ts'

/** A store that doesn't take the line up is away; one that has it may need its time for 30 MB. */
const CONNECT_MS = 3_000
const ANSWER_MS = 60_000
const HEALTH_MS = 5_000
const TRIES = 2
const SMALL_TYPE = 'image/webp'

/** Opens the bucket without asking it anything: a store that is away must not keep the service from starting. */
export function openStillBucket(place: BucketPlace): StillFiles {
  const { bucket: Bucket, prefix, endpoint } = place
  const client = new S3Client({
    // Other stores take any region; Amazon's own comes from the SDK's usual environment.
    ...(endpoint !== undefined && { endpoint, forcePathStyle: true, region: regionOrAny() }),
    maxAttempts: TRIES,
    requestHandler: { connectionTimeout: CONNECT_MS, requestTimeout: ANSWER_MS },
    // We send and prove a SHA-256 of our own; stores other than Amazon's may not know the SDK's other sums.
    requestChecksumCalculation: 'WHEN_REQUIRED',
    responseChecksumValidation: 'WHEN_REQUIRED',
  })
  const keyOf = (size: 'whole' | 'small', hash: Buffer) =>
    prefix === '' ? placeOf(size, hash) : `${prefix}/${placeOf(size, hash)}`

  async function asked<T>(answer: Promise<T>): Promise<T> {
    try {
      return await answer
    } catch (fault) {
      throw awayOf(fault, place)
    }
  }

  async function get(Key: string): Promise<Buffer | null> {
    try {
      const { Body } = await client.send(new GetObjectCommand({ Bucket, Key }))
      return Body === undefined ? null : Buffer.from(await Body.transformToByteArray())
    } catch (fault) {
      if (nameOf(fault) === 'NoSuchKey') return null
      throw awayOf(fault, place)
    }
  }

  /** One by one: a removal of several at once needs a sum that other stores do not all know. */
  async function remove(...keys: readonly string[]): Promise<void> {
    for (const Key of keys) await asked(client.send(new DeleteObjectCommand({ Bucket, Key })))
  }

  async function readWhole(hash: Buffer): Promise<Buffer | null> {
    const bytes = await get(keyOf('whole', hash))
    return bytes !== null && isWhole(hash, bytes) ? bytes : null
  }

  return {
    kind: 'bucket',
    async keep(hash, bytes) {
      await asked(
        client.send(
          new PutObjectCommand({
            Bucket,
            Key: keyOf('whole', hash),
            Body: bytes,
            ChecksumSHA256: hash.toString('base64'),
          }),
        ),
      )
    },
    read: readWhole,
    async sourceOf(hash) {
      const bytes = await readWhole(hash)
      if (bytes === null) throw bytesGone(hash)
      return { bytes }
    },
    async linkOf(hash, seconds) {
      return await asked(
        getSignedUrl(client, new GetObjectCommand({ Bucket, Key: keyOf('whole', hash) }), {
          expiresIn: seconds,
        }),
      )
    },
    async keepSmall(hash, bytes) {
      const put = new PutObjectCommand({
        Bucket,
        Key: keyOf('small', hash),
        Body: bytes,
        ContentType: SMALL_TYPE,
      })
      await asked(client.send(put))
    },
    readSmall: (hash) => get(keyOf('small', hash)),
    dropWhole: (hash) => remove(keyOf('whole', hash)),
    drop: (hash) => remove(keyOf('whole', hash), keyOf('small', hash)),
    async health() {
      try {
        const abortSignal = AbortSignal.timeout(HEALTH_MS)
        await client.send(new HeadBucketCommand({ Bucket }), { abortSignal })
        return { ok: true, detail: `in ${bucketInWords(place)}` }
      } catch (fault) {
        return { ok: false, detail: awayOf(fault, place).message }
      }
    },
    close: () => client.destroy(),
  }
}

function regionOrAny(): string {
  return process.env.AWS_REGION ?? process.env.AWS_DEFAULT_REGION ?? 'us-east-1'
}

function nameOf(fault: unknown): string {
  return fault instanceof Error ? fault.name : ''
}

/** Whatever keeps the store from answering as asked: it may be put right and the same call go through. */
function awayOf(fault: unknown, place: BucketPlace): Refusal {
  const said = fault instanceof Error ? fault.message || fault.name : String(fault)
  const why = fault instanceof S3ServiceException ? `${fault.name}: ${said}` : said
  return new Refusal({
    kind: 'unavailable',
    detail: `The storage of the photos, ${bucketInWords(place)}, did not do what it was asked (${why}).`,
    remedy:
      'Send it again in a moment. If it goes on, look at Health in Set-up, and at STILLS_S3 and its credentials.',
  })
}
