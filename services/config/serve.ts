/** Options of the service, and of the demo, which is the same service. */
import { join } from 'node:path'
import { z } from 'zod'
import { readEyeSettings } from '../../worker/eye/settings.ts'
import { projectFolder } from '../paths.ts'
import { parseInstant } from '../station-time.ts'
import type { BucketPlace } from '../store/still-files.ts'
import type { Instant } from '../words.ts'
import { bucketOf, bytesOfMegabytes, readEnvironment } from './environment.ts'
import { hostRule, type OptionsConfig, parseOptions, readOptions, wholeNumber } from './options.ts'

export const DEFAULT_PORT = 8470
const LOOPBACK = '127.0.0.1'

const serveDoor = z.object({
  port: wholeNumber(0, 65535).optional(),
  host: z.string().min(1).optional(),
  data: z.string().min(1).optional(),
  eye: z.boolean().optional(),
  models: z.string().min(1).optional(),
  'drop-root': z.array(z.string().min(1)).optional(),
  'camera-host': z.array(hostRule).optional(),
})

const demoDoor = serveDoor.extend({
  nights: wholeNumber(1, 400).default(56),
  seed: wholeNumber(0, 2 ** 32 - 1).default(1),
  now: z.iso.datetime({ offset: true }).transform(parseInstant).optional(),
  fresh: z.boolean().default(false),
})

export interface ServeConfig {
  readonly port: number
  readonly host: string
  readonly dataFolder: string
  readonly databaseUrl: string | undefined
  /** Where workers find what waits; without it this process looks at photos itself. */
  readonly redisUrl?: string | undefined
  /** The address workers reach the same Redis by, where it is another one. */
  readonly workerRedisUrl?: string | undefined
  /** The folder of the models and their manifest; absent: those that came with it. */
  readonly modelsFolder?: string | undefined
  /** Looks at photos too, beside the workers. */
  readonly runsEye?: boolean | undefined
  /** The folder of the photos, where it is not in the data folder: workers may be given it too. */
  readonly stillFolder?: string | undefined
  /** Where photos lie that are not in the data folder. */
  readonly stillBucket?: BucketPlace | undefined
  /** Free room under which no photo is taken; absent: the usual reserve. */
  readonly diskReserveBytes?: number | undefined
  /** Folders under which drop folders may lie; without one there are none. */
  readonly dropRoots?: readonly string[] | undefined
  /** Hosts and networks of the station's own that may be asked for photos; without one only public addresses. */
  readonly cameraHosts?: readonly string[] | undefined
  /** Photos held in memory while they come in; absent: the usual. */
  readonly receivingBytes?: number | undefined
}

export interface DemoConfig extends ServeConfig {
  readonly nights: number
  readonly seed: number
  readonly now: Instant | undefined
  readonly fresh: boolean
}

export const loopbackOnly = (host: string): boolean => /^(127(\.\d{1,3}){3}|::1|localhost)$/.test(host)

export function readServeConfig(args: readonly string[], environment: NodeJS.ProcessEnv): ServeConfig {
  const { values } = parseOptions(args, SERVE_OPTIONS)
  return serveConfigOf(readOptions(serveDoor, values), environment, 'station')
}

export function readDemoConfig(args: readonly string[], environment: NodeJS.ProcessEnv): DemoConfig {
  const { values } = parseOptions(args, {
    ...SERVE_OPTIONS,
    nights: { type: 'string' },
    seed: { type: 'string' },
    now: { type: 'string' },
    fresh: { type: 'boolean' },
  })
  const { nights, seed, now, fresh, ...serve } = readOptions(demoDoor, values)
  // The demo is invented data: it never goes into the database of a real station.
  const {
    DATABASE_URL: _,
    STILLS_S3: __,
    REDIS_URL: ___,
    STILLS_FOLDER: ____,
    HOOFTALLY_DROP_ROOTS: _____,
    ...own
  } = environment
  return { ...serveConfigOf(serve, own, 'demo'), nights, seed, now, fresh }
}

const SERVE_OPTIONS = {
  port: { type: 'string' },
  host: { type: 'string' },
  data: { type: 'string' },
  eye: { type: 'boolean' },
  models: { type: 'string' },
  'drop-root': { type: 'string', multiple: true },
  'camera-host': { type: 'string', multiple: true },
} as const satisfies OptionsConfig

function serveConfigOf(
  given: z.output<typeof serveDoor>,
  environment: NodeJS.ProcessEnv,
  folderName: string,
): ServeConfig {
  const fromEnvironment = readEnvironment(environment)
  // The eye reads them; what is wrong with them is said before anything starts.
  readEyeSettings(environment)
  return {
    port: given.port ?? fromEnvironment.HOOFTALLY_PORT ?? DEFAULT_PORT,
    host: given.host ?? fromEnvironment.HOOFTALLY_HOST ?? LOOPBACK,
    dataFolder: given.data ?? fromEnvironment.HOOFTALLY_DATA ?? join(projectFolder, 'data', folderName),
    databaseUrl: fromEnvironment.DATABASE_URL,
    modelsFolder: given.models ?? fromEnvironment.HOOFTALLY_MODELS,
    stillBucket: bucketOf(fromEnvironment),
    diskReserveBytes: bytesOfMegabytes(fromEnvironment.HOOFTALLY_DISK_RESERVE_MB),
    receivingBytes: bytesOfMegabytes(fromEnvironment.HOOFTALLY_INTAKE_MEMORY_MB),
    dropRoots: given['drop-root'] ?? fromEnvironment.HOOFTALLY_DROP_ROOTS,
    cameraHosts: given['camera-host'] ?? fromEnvironment.HOOFTALLY_CAMERA_HOSTS,
    stillFolder: fromEnvironment.STILLS_FOLDER,
    redisUrl: fromEnvironment.REDIS_URL,
    workerRedisUrl: fromEnvironment.WORKER_REDIS_URL,
    runsEye: given.eye ?? fromEnvironment.HOOFTALLY_EYE === '1',
  }
}
