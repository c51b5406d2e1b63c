/** How the eye shares the machine: how many eyes, how many threads within a run, how many stills in flight. */
import type { EyeSettings } from './settings.ts'

export interface EyePlan {
  /** Eyes, each in a thread of its own. */
  readonly eyeThreads: number
  /** Threads of ONNX Runtime within one run of a model. */
  readonly onnxThreads: number
  /** Stills worked on at once, in all eyes together. */
  readonly stillsInFlight: number
}

export interface Machine {
  readonly cores: number
  readonly memoryBytes: number
}

/** Each eye holds its own weights and working memory: more of them would cost more memory than they save time. */
const MAX_EYES = 8
/** Of the machine's memory the eyes may take a half, each about this much (`npm run bench -- pipeline`, peak memory). */
const MEMORY_SHARE = 0.5
const BYTES_AN_EYE = 350e6
/** Two: while a thread's models run on one still, the next is decoded. */
export const STILLS_A_THREAD = 2
/** What decoding takes from the one core that feeds an accelerator may need a second eye, not more. */
const MAX_EYES_ON_ACCELERATOR = 2

/**
 * The plans worth trying on a machine, the usual one first: an eye for each core, or half as many eyes whose runs share
 * the other cores. With an accelerator: two eyes or one. What is set is kept in all of them.
 */
export function plansFor({ cores, memoryBytes }: Machine, settings: EyeSettings): EyePlan[] {
  const fitting = Math.max(
    1,
    Math.min(cores, MAX_EYES, Math.floor((memoryBytes * MEMORY_SHARE) / BYTES_AN_EYE)),
  )
  const accelerated = settings.providers[0] !== 'cpu'
  const within = (eyes: number) =>
    settings.onnxThreads ?? (accelerated ? 1 : Math.max(1, Math.floor(cores / eyes)))
  const eyes = eyeCounts(fitting, { ...settings, cores, accelerated })
  return eyes.map((eyeThreads) => ({
    eyeThreads,
    onnxThreads: within(eyeThreads),
    stillsInFlight: settings.stillsInFlight ?? eyeThreads * STILLS_A_THREAD,
  }))
}

function eyeCounts(
  fitting: number,
  { eyeThreads, onnxThreads, cores, accelerated }: EyeSettings & { cores: number; accelerated: boolean },
): number[] {
  if (eyeThreads !== undefined) return [eyeThreads]
  if (accelerated) return fitting > 1 ? [MAX_EYES_ON_ACCELERATOR, 1] : [1]
  if (onnxThreads !== undefined) return [Math.max(1, Math.min(fitting, Math.floor(cores / onnxThreads)))]
  return fitting > 1 ? [fitting, Math.ceil(fitting / 2)] : [1]
}

/** The same eyes with one more still each in flight, or null where that is set. */
export function withMoreInFlight(plan: EyePlan, { stillsInFlight }: EyeSettings): EyePlan | null {
  if (stillsInFlight !== undefined) return null
  return { ...plan, stillsInFlight: plan.eyeThreads * (STILLS_A_THREAD + 1) }
}

/** A plan in words, for the log. */
export function planWords({ eyeThreads, onnxThreads, stillsInFlight }: EyePlan): string {
  return `${eyeThreads} eye threads x ${onnxThreads} ONNX threads, ${stillsInFlight} photos in flight`
}
