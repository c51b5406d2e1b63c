/** What the environment says, where a service manager sets it. */
import { z } from 'zod'
import type { BucketPlace } from '../store/still-files.ts'
import { badOption, hostRule, httpAddress, wholeNumber } from './options.ts'

/** With less the largest photo (intake/receive-still.ts) could never come in. */
export const LEAST_INTAKE_MEMORY_MB = 32

const redisAddress = z.url({ protocol: /^rediss?$/, error: 'not an address like redis://host:6379' })

/** With commas between; a folder whose name has one is given by the option. */
const list = z.string().transform((text) =>
  text
    .split(',')
    .map((one) => one.trim())
    .filter((one) => one !== ''),
)

const environmentDoor = z.object({
  DATABASE_URL: z.url().optional(),
  HOOFTALLY_DATA: z.string().min(1).optional(),
  HOOFTALLY_PORT: wholeNumber(0, 65535).optional(),
  HOOFTALLY_HOST: z.string().min(1).optional(),
  REDIS_URL: redisAddress.optional(),
  HOOFTALLY_API: httpAddress.optional(),
  HOOFTALLY_WORKER_KEY: z.string().min(1).optional(),
  WORKER_REDIS_URL: redisAddress.optional(),
  HOOFTALLY_MODELS: z.string().min(1).optional(),
  HOOFTALLY_EYE: z.enum(['0', '1'], { error: 'not 0 or 1' }).optional(),
  STILLS_FOLDER: z.string().min(1).optional(),
  HOOFTALLY_DISK_RESERVE_MB: wholeNumber(0, 1_000_000_000).optional(),
  HOOFTALLY_INTAKE_MEMORY_MB: wholeNumber(LEAST_INTAKE_MEMORY_MB, 1_000_000).optional(),
  STILLS_S3: z
    .string()
    .regex(/^s3:\/\/[a-z0-9][a-z0-9.-]+[a-z0-9](\/[\w.\-/]*)?$/, {
      error: 'not an address like s3://bucket/prefix',
    })
    .optional(),
  HOOFTALLY_DROP_ROOTS: list.optional(),
  HOOFTALLY_CAMERA_HOSTS: list.pipe(z.array(hostRule)).optional(),
  STILLS_S3_ENDPOINT: z.url({ protocol: /^https?$/, error: 'not an http or https address' }).optional(),
})

export function readEnvironment(environment: NodeJS.ProcessEnv): z.output<typeof environmentDoor> {
  const result = environmentDoor.safeParse(environment)
  if (result.success) return result.data
  const issue = result.error.issues[0]!
  throw badOption(String(issue.path[0]), issue.message)
}

export function bytesOfMegabytes(megabytes: number | undefined): number | undefined {
  return megabytes === undefined ? undefined : megabytes * 1024 ** 2
}

/** `s3://bucket/some/prefix`; the endpoint is that of a store other than Amazon's. */
export function bucketOf({
  STILLS_S3,
  STILLS_S3_ENDPOINT,
}: z.output<typeof environmentDoor>): BucketPlace | undefined {
  if (STILLS_S3 === undefined) return undefined
  const { hostname, pathname } = new URL(STILLS_S3)
  return { bucket: hostname, prefix: pathname.replace(/^\/+|\/+$/g, ''), endpoint: STILLS_S3_ENDPOINT }
}
