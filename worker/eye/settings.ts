/** What the owner of the machine may set of the eye, from the environment, parsed once. */
import { z } from 'zod'
import { Refusal } from '../../services/refusal.ts'

const wholeNumber = (most: number) =>
  z
    .string()
    .regex(/^\d+$/, { error: 'expected a whole number' })
    .transform(Number)
    .pipe(
      z
        .number()
        .min(1, { error: 'expected 1 or more' })
        .max(most, { error: `expected ${most} at most` }),
    )
    .optional()

const DEFAULT_PROVIDERS = ['cpu']

const door = z.object({
  HOOFTALLY_EYE_THREADS: wholeNumber(64),
  HOOFTALLY_ONNX_THREADS: wholeNumber(64),
  HOOFTALLY_STILLS_IN_FLIGHT: wholeNumber(256),
  HOOFTALLY_PROVIDERS: z
    .string()
    .regex(/^[a-z]+(,[a-z]+)*$/, { error: 'expected names of providers with commas between, as in cuda,cpu' })
    .transform((names) => names.split(','))
    .optional(),
})

/** The parts of a plan that are set; what is left out is found at the start. */
export interface EyeSettings {
  readonly eyeThreads?: number | undefined
  readonly onnxThreads?: number | undefined
  readonly stillsInFlight?: number | undefined
  /** Execution providers of ONNX Runtime, the first that can run a part of a model does. */
  readonly providers: readonly string[]
}

export const UNSET: EyeSettings = { providers: DEFAULT_PROVIDERS }

/** @throws Refusal that names the variable and the remedy */
export function readEyeSettings(environment: NodeJS.ProcessEnv): EyeSettings {
  const parsed = door.safeParse(environment)
  if (parsed.success) {
    const set = parsed.data
    return {
      eyeThreads: set.HOOFTALLY_EYE_THREADS,
      onnxThreads: set.HOOFTALLY_ONNX_THREADS,
      stillsInFlight: set.HOOFTALLY_STILLS_IN_FLIGHT,
      providers: set.HOOFTALLY_PROVIDERS ?? DEFAULT_PROVIDERS,
    }
  }
  const issue = parsed.error.issues[0]
  const field = String(issue?.path[0] ?? 'environment')
  throw new Refusal({
    kind: 'bad input',
    detail: `${field}: ${issue?.message ?? 'does not fit'}.`,
    field,
    remedy: `Set ${field} to a fitting value, or leave it out: the usual one is found at the start.`,
  })
}
