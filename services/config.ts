/** Options of the commands, parsed once: from the command line, and from the environment where a service manager sets it. */
import { hostname } from 'node:os'
import { join } from 'node:path'
import { type ParseArgsConfig, parseArgs } from 'node:util'
import { z } from 'zod'
import { readEyeSettings } from '../worker/eye/settings.ts'
import { weekDoor } from './http/pressure-doors.ts'
import { modelsFolder, projectFolder } from './paths.ts'
import type { Load, Rates } from './planning/size.ts'
import { Refusal } from './refusal.ts'
import { parseInstant } from './station-time.ts'
import type { BucketPlace } from './store/still-files.ts'
import { EMPTIES_RULES, type EmptiesRule } from './tally/keeping.ts'
import type { WeekOfNights } from './tally/weeks.ts'
import type { Instant } from './words.ts'

export const DEFAULT_PORT = 8470
const REPORT_FORMATS = ['html', 'csv', 'json'] as const
const LOOPBACK = '127.0.0.1'
/** With less the largest photo (intake/receive-still.ts) could never come in. */
export const LEAST_INTAKE_MEMORY_MB = 32

const wholeNumber = (least: number, most: number) =>
  z
    .string()
    .regex(/^\d+$/, { error: 'not a whole number' })
    .transform(Number)
    .pipe(z.number().min(least).max(most))

const httpAddress = z.url({ protocol: /^https?$/, error: 'not an address like http://10.0.0.5:8470' })
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
  HOOFTALLY_CAMERA_HOSTS: list.optional(),
  STILLS_S3_ENDPOINT: z.url({ protocol: /^https?$/, error: 'not an http or https address' }).optional(),
})

const serveDoor = z.object({
  port: wholeNumber(0, 65535).optional(),
  host: z.string().min(1).optional(),
  data: z.string().min(1).optional(),
  eye: z.boolean().optional(),
  models: z.string().min(1).optional(),
  'drop-root': z.array(z.string().min(1)).optional(),
  'camera-host': z.array(z.string().min(1)).optional(),
})

const demoDoor = serveDoor.extend({
  nights: wholeNumber(1, 400).default(56),
  seed: wholeNumber(0, 2 ** 32 - 1).default(1),
  now: z.iso.datetime({ offset: true }).transform(parseInstant).optional(),
  fresh: z.boolean().default(false),
})

const importDoor = z.object({ camera: z.string().min(1), data: z.string().min(1).optional() })
const retentionDoor = z.object({
  'dry-run': z.boolean().default(false),
  empties: z.enum(EMPTIES_RULES, { error: `not one of ${EMPTIES_RULES.join(', ')}` }).optional(),
  'after-days': wholeNumber(1, 36_500).optional(),
  data: z.string().min(1).optional(),
})
const pointsDoor = z.object({ data: z.string().min(1).optional() })

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

/** Where a station's data lie, as `openStationData` takes it. */
export interface PlacesConfig {
  readonly dataFolder: string
  readonly databaseUrl: string | undefined
  readonly stillBucket: BucketPlace | undefined
  readonly stillFolder: string | undefined
  readonly diskReserveBytes: number | undefined
}

export interface ImportConfig extends PlacesConfig {
  readonly folder: string
  readonly camera: string
}

export function readImportConfig(args: readonly string[], environment: NodeJS.ProcessEnv): ImportConfig {
  const { values, positionals } = parseOptions(args, { camera: { type: 'string' }, data: { type: 'string' } })
  return {
    folder: onePath(positionals, 'FOLDER', 'hooftally import FOLDER --camera NAME'),
    camera: readOptions(importDoor, values).camera,
    ...placesOf(values.data, environment),
  }
}

export interface RetentionConfig extends PlacesConfig {
  readonly dryRun: boolean
  readonly empties: EmptiesRule | undefined
  readonly afterDays: number | undefined
}

export function readRetentionConfig(
  args: readonly string[],
  environment: NodeJS.ProcessEnv,
): RetentionConfig {
  const { values } = parseOptions(args, {
    'dry-run': { type: 'boolean' },
    empties: { type: 'string' },
    'after-days': { type: 'string' },
    data: { type: 'string' },
  })
  const given = readOptions(retentionDoor, values)
  const { empties, 'dry-run': dryRun, 'after-days': afterDays } = given
  if (!dryRun && (empties !== undefined || afterDays !== undefined)) {
    throw new Refusal({
      kind: 'bad input',
      detail: 'A rule given on the command line is for a dry run only.',
      field: empties === undefined ? '--after-days' : '--empties',
      remedy: 'Add --dry-run, or set the rule under Keeping photos in Set-up and run it without.',
    })
  }
  return { dryRun, empties, afterDays, ...placesOf(given.data, environment) }
}

export interface PointsConfig extends PlacesConfig {
  readonly file: string
}

export function readPointsConfig(args: readonly string[], environment: NodeJS.ProcessEnv): PointsConfig {
  const { values, positionals } = parseOptions(args, { data: { type: 'string' } })
  readOptions(pointsDoor, values)
  return {
    file: onePath(positionals, 'FILE', 'hooftally points FILE'),
    ...placesOf(values.data, environment),
  }
}

const reportDoor = z.object({
  week: weekDoor.optional(),
  format: z.enum(REPORT_FORMATS, { error: `not one of ${REPORT_FORMATS.join(', ')}` }).default('html'),
  units: z.boolean().default(false),
  data: z.string().min(1).optional(),
})

export interface ReportConfig extends PlacesConfig {
  /** Absent: the last week that is over. */
  readonly week: WeekOfNights | undefined
  readonly format: (typeof REPORT_FORMATS)[number]
  readonly units: boolean
}

export function readReportConfig(args: readonly string[], environment: NodeJS.ProcessEnv): ReportConfig {
  const text = { type: 'string' } as const
  const { values } = parseOptions(args, { week: text, format: text, units: { type: 'boolean' }, data: text })
  const { week, format, units, data } = readOptions(reportDoor, values)
  return { week, format, units, ...placesOf(data, environment) }
}

export interface BackupConfig extends PlacesConfig {
  readonly file: string
}

export function readBackupConfig(args: readonly string[], environment: NodeJS.ProcessEnv): BackupConfig {
  const { values, positionals } = parseOptions(args, { data: { type: 'string' } })
  readOptions(pointsDoor, values)
  return {
    file: onePath(positionals, 'FILE', 'hooftally backup FILE'),
    ...placesOf(values.data, environment),
  }
}

export interface TrainingSetConfig extends PlacesConfig {
  readonly folder: string
}

export function readTrainingSetConfig(
  args: readonly string[],
  environment: NodeJS.ProcessEnv,
): TrainingSetConfig {
  const { values, positionals } = parseOptions(args, { data: { type: 'string' } })
  readOptions(pointsDoor, values)
  return {
    folder: onePath(positionals, 'FOLDER', 'hooftally training-set FOLDER'),
    ...placesOf(values.data, environment),
  }
}

const positive = z
  .string()
  .regex(/^\d+(\.\d+)?$/, { error: 'not a number' })
  .transform(Number)
  .pipe(z.number().positive({ error: 'not more than 0' }))

const sizeDoor = z.object({
  cameras: wholeNumber(1, 1_000_000),
  'photos-a-day': positive,
  'photo-kb': positive,
  rate: positive,
  'busiest-hour': positive.pipe(z.number().max(100, { error: 'more than 100 per cent' })).default(10),
})

export function readSizeConfig(args: readonly string[]): { readonly load: Load; readonly rates: Rates } {
  const { values } = parseOptions(args, {
    cameras: { type: 'string' },
    'photos-a-day': { type: 'string' },
    'photo-kb': { type: 'string' },
    rate: { type: 'string' },
    'busiest-hour': { type: 'string' },
  })
  const size = readOptions(sizeDoor, values)
  return {
    load: {
      cameras: size.cameras,
      photosACameraDay: size['photos-a-day'],
      photoBytes: size['photo-kb'] * 1_000,
      busiestHourShare: size['busiest-hour'] / 100,
    },
    rates: { workerPerSecond: size.rate },
  }
}

export interface RestoreConfig extends BackupConfig {
  readonly check: boolean
}

export function readRestoreConfig(args: readonly string[], environment: NodeJS.ProcessEnv): RestoreConfig {
  const { values, positionals } = parseOptions(args, { data: { type: 'string' }, check: { type: 'boolean' } })
  readOptions(pointsDoor, values)
  return {
    file: onePath(positionals, 'FILE', 'hooftally restore FILE'),
    check: values.check === true,
    ...placesOf(values.data, environment),
  }
}

const workerDoor = z.object({
  api: httpAddress.optional(),
  key: z.string().min(1).optional(),
  name: z.string().trim().min(1).max(80).optional(),
  threads: wholeNumber(1, 64).optional(),
  models: z.string().min(1).optional(),
})

export interface WorkerConfig {
  readonly api: string
  readonly key: string
  readonly name: string
  readonly threads: number | undefined
  readonly modelsFolder: string
  readonly stillFolder: string | null
}

export function readWorkerConfig(args: readonly string[], environment: NodeJS.ProcessEnv): WorkerConfig {
  const text = { type: 'string' } as const
  const { values } = parseOptions(args, { api: text, key: text, name: text, threads: text, models: text })
  const given = readOptions(workerDoor, values)
  const fromEnvironment = readEnvironment(environment)
  const needed = (value: string | undefined, field: string): string => {
    if (value === undefined) throw badOption(field, 'is missing')
    return value
  }
  return {
    api: needed(given.api ?? fromEnvironment.HOOFTALLY_API, '--api'),
    key: needed(given.key ?? fromEnvironment.HOOFTALLY_WORKER_KEY, '--key'),
    name: given.name ?? hostname().slice(0, 80),
    threads: given.threads,
    modelsFolder: given.models ?? fromEnvironment.HOOFTALLY_MODELS ?? modelsFolder,
    stillFolder: fromEnvironment.STILLS_FOLDER ?? null,
  }
}

type OptionsConfig = NonNullable<ParseArgsConfig['options']>

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

function placesOf(given: unknown, environment: NodeJS.ProcessEnv): PlacesConfig {
  const fromEnvironment = readEnvironment(environment)
  const data = typeof given === 'string' ? given : fromEnvironment.HOOFTALLY_DATA
  return {
    dataFolder: data ?? join(projectFolder, 'data', 'station'),
    databaseUrl: fromEnvironment.DATABASE_URL,
    stillBucket: bucketOf(fromEnvironment),
    stillFolder: fromEnvironment.STILLS_FOLDER,
    diskReserveBytes: bytesOfMegabytes(fromEnvironment.HOOFTALLY_DISK_RESERVE_MB),
  }
}

function bytesOfMegabytes(megabytes: number | undefined): number | undefined {
  return megabytes === undefined ? undefined : megabytes * 1024 ** 2
}

/** `s3://bucket/some/prefix`; the endpoint is that of a store other than Amazon's. */
function bucketOf({
  STILLS_S3,
  STILLS_S3_ENDPOINT,
}: z.output<typeof environmentDoor>): BucketPlace | undefined {
  if (STILLS_S3 === undefined) return undefined
  const { hostname, pathname } = new URL(STILLS_S3)
  return { bucket: hostname, prefix: pathname.replace(/^\/+|\/+$/g, ''), endpoint: STILLS_S3_ENDPOINT }
}

function readEnvironment(environment: NodeJS.ProcessEnv): z.output<typeof environmentDoor> {
  const result = environmentDoor.safeParse(environment)
  if (result.success) return result.data
  const issue = result.error.issues[0]!
  throw badOption(String(issue.path[0]), issue.message)
}

function parseOptions<Options extends OptionsConfig>(args: readonly string[], options: Options) {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true })
  } catch (fault) {
    const detail = fault instanceof Error ? fault.message : String(fault)
    throw new Refusal({
      kind: 'bad input',
      detail: detail.split('. ')[0] ?? detail,
      remedy: 'Run the command with --help to see its options.',
    })
  }
}

function readOptions<Door extends z.ZodType>(door: Door, values: unknown): z.output<Door> {
  const result = door.safeParse(values)
  if (result.success) return result.data
  const issue = result.error.issues[0]!
  const missing = issue.code === 'invalid_type' && issue.input === undefined
  throw badOption(`--${String(issue.path[0])}`, missing ? 'is missing' : issue.message)
}

function badOption(field: string, what: string): Refusal {
  return new Refusal({
    kind: 'bad input',
    detail: `${field}: ${what}.`,
    field,
    remedy: `Give ${field} a fitting value, or leave it out for the usual one; --help says what it takes.`,
  })
}

function onePath(positionals: readonly string[], what: string, usage: string): string {
  const [path] = positionals
  if (path !== undefined && positionals.length === 1) return path
  throw new Refusal({
    kind: 'bad input',
    detail: `Expected one ${what}, got ${positionals.length}.`,
    field: what,
    remedy: `Write it as: ${usage}`,
  })
}
