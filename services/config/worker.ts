/** Options of a worker on another machine. */
import { hostname } from 'node:os'
import { z } from 'zod'
import { modelsFolder } from '../paths.ts'
import { readEnvironment } from './environment.ts'
import { badOption, httpAddress, parseOptions, readOptions, wholeNumber } from './options.ts'

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
