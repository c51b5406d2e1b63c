/** Where a station's data lie, for the commands that work on them. */
import { join } from 'node:path'
import { projectFolder } from '../paths.ts'
import type { BucketPlace } from '../store/still-files.ts'
import { bucketOf, bytesOfMegabytes, readEnvironment } from './environment.ts'

/** Where a station's data lie, as `openStationData` takes it. */
export interface PlacesConfig {
  readonly dataFolder: string
  readonly databaseUrl: string | undefined
  readonly stillBucket: BucketPlace | undefined
  readonly stillFolder: string | undefined
  readonly diskReserveBytes: number | undefined
}

export function placesOf(given: unknown, environment: NodeJS.ProcessEnv): PlacesConfig {
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
