/** Opens the eyes as the settings say, or as the machine does best. */
import { availableParallelism, totalmem } from 'node:os'
import ort from 'onnxruntime-node'
import { keepPlan, readKeptPlan } from './kept-plan.ts'
import { type Models, readModels } from './manifest.ts'
import { openFastest, type TriedPlan } from './measure-plan.ts'
import { type EyePlan, type Machine, plansFor } from './plan.ts'
import { refuseUnknownProviders } from './providers.ts'
import { type EyeSettings, UNSET } from './settings.ts'
import { type Eyes, openEyes } from './threads.ts'

export interface ChosenPlan extends EyePlan {
  readonly providers: readonly string[]
  /** Whether the owner set all of it, it was measured now or at an earlier start, or it is the usual one, unmeasured. */
  readonly from: 'set' | 'measured' | 'kept' | 'usual'
  /** What was measured now. */
  readonly tried: readonly TriedPlan[]
}

/** What a start may wait for it: no other plan is begun after this. */
export const MEASURE_MS = 2_000

export interface OpenOptions {
  readonly modelsFolder: string
  readonly settings?: EyeSettings
  /** How long plans may be measured, as the eye waits for it; the usual plan is taken where it is 0, as it is unless said. */
  readonly measureMs?: number
  /** Where a measured plan is kept; without it every start measures. */
  readonly planFile?: string | undefined
}

/**
 * @throws Refusal when a model is missing or changed, or a provider is not there
 */
export async function openPlannedEyes({
  modelsFolder,
  settings = UNSET,
  measureMs = 0,
  planFile,
}: OpenOptions): Promise<{ readonly eyes: Eyes; readonly plan: ChosenPlan }> {
  const { providers } = settings
  refuseUnknownProviders(providers)
  const models = await readModels(modelsFolder)
  const machine: Machine = {
    cores: availableParallelism(),
    memoryBytes: Math.min(totalmem(), process.constrainedMemory() || Number.POSITIVE_INFINITY),
  }
  const plans = plansFor(machine, settings)
  const [usual] = plans
  if (!usual) throw new Error('no plan for this machine')
  const open = async (plan: EyePlan, from: ChosenPlan['from']) => ({
    eyes: await openEyes({ models, plan, providers }),
    plan: { ...plan, providers, from, tried: [] },
  })
  const isSet = settings.stillsInFlight !== undefined && plans.length === 1
  if (isSet || measureMs === 0) return await open(usual, isSet ? 'set' : 'usual')

  const of = dependsOn(models, machine, settings)
  const kept = planFile === undefined ? null : await readKeptPlan(planFile, of)
  if (kept) return await open(kept, 'kept')
  const { eyes, plan, tried, isSure } = await openFastest(plans, settings, {
    models,
    providers,
    patienceMs: measureMs,
  })
  // A folder that can't be written to costs a measurement at the next start, no more.
  if (planFile !== undefined && isSure) await keepPlan(planFile, of, plan).catch(() => undefined)
  return { eyes, plan: { ...plan, providers, from: tried.length > 1 ? 'measured' : 'usual', tried } }
}

function dependsOn({ identity }: Models, machine: Machine, settings: EyeSettings): string {
  const runtime = ort.env.versions.node ?? ort.env.versions.common
  return JSON.stringify([
    identity.detectorSha256,
    identity.namerSha256,
    machine,
    runtime,
    process.version,
    settings,
  ])
}
