/** Options of the commands that work on a station's data and end. */
import { z } from 'zod'
import { weekDoor } from '../http/pressure-doors.ts'
import type { Load, Rates } from '../planning/size.ts'
import { Refusal } from '../refusal.ts'
import { EMPTIES_RULES, type EmptiesRule } from '../tally/keeping.ts'
import type { WeekOfNights } from '../tally/weeks.ts'
import { onePath, parseOptions, positive, readOptions, wholeNumber } from './options.ts'
import { type PlacesConfig, placesOf } from './places.ts'

const REPORT_FORMATS = ['html', 'csv', 'json'] as const

const dataDoor = z.object({ data: z.string().min(1).optional() })
const importDoor = z.object({ camera: z.string().min(1), data: z.string().min(1).optional() })

const retentionDoor = z.object({
  'dry-run': z.boolean().default(false),
  empties: z.enum(EMPTIES_RULES, { error: `not one of ${EMPTIES_RULES.join(', ')}` }).optional(),
  'after-days': wholeNumber(1, 36_500).optional(),
  data: z.string().min(1).optional(),
})

/** A path, and where the station's data lie. */
function pathAndPlaces(
  args: readonly string[],
  environment: NodeJS.ProcessEnv,
  { what, usage }: { readonly what: string; readonly usage: string },
): { readonly path: string; readonly places: PlacesConfig } {
  const { values, positionals } = parseOptions(args, { data: { type: 'string' } })
  const { data } = readOptions(dataDoor, values)
  return { path: onePath(positionals, what, usage), places: placesOf(data, environment) }
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
  const { path, places } = pathAndPlaces(args, environment, { what: 'FILE', usage: 'hooftally points FILE' })
  return { file: path, ...places }
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
  const { path, places } = pathAndPlaces(args, environment, { what: 'FILE', usage: 'hooftally backup FILE' })
  return { file: path, ...places }
}

export interface TrainingSetConfig extends PlacesConfig {
  readonly folder: string
}

export function readTrainingSetConfig(
  args: readonly string[],
  environment: NodeJS.ProcessEnv,
): TrainingSetConfig {
  const { path, places } = pathAndPlaces(args, environment, {
    what: 'FOLDER',
    usage: 'hooftally training-set FOLDER',
  })
  return { folder: path, ...places }
}

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
  readOptions(dataDoor, values)
  return {
    file: onePath(positionals, 'FILE', 'hooftally restore FILE'),
    check: values.check === true,
    ...placesOf(values.data, environment),
  }
}
