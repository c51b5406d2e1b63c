/** Which plan is fastest on this machine: a short measurement on the stills that come with the demo. */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { demoStillsFolder } from '../../services/paths.ts'
import { type EyePlan, withMoreInFlight } from './plan.ts'
import type { EyeSettings } from './settings.ts'
import { type Eyes, type EyesOptions, openEyes } from './threads.ts'

export interface TriedPlan extends EyePlan {
  readonly stillsPerSecond: number
}

/** A few are enough: what is compared does the same work. One animal in each, so that both models run, and soon. */
const STILLS = ['galah-well-04.jpg', 'kite-bore-09.jpg', 'lantern-bore-04.jpg', 'snakewood-bore-04.jpg']
const MEASURED_MS = 500
/** Measured while the machine does other things too: less than this is no difference. */
const CLEARLY_FASTER = 1.1

export interface FastestEyes {
  readonly eyes: Eyes
  readonly plan: EyePlan
  readonly tried: readonly TriedPlan[]
  /** False where patience ended before every plan was tried: another start may know better. */
  readonly isSure: boolean
}

/**
 * Opens the eyes of the first plan and, while there is patience, those of each of the others in its place; those of the
 * fastest plan are open at the end.
 */
export async function openFastest(
  plans: readonly EyePlan[],
  settings: EyeSettings,
  { models, providers, patienceMs }: Omit<EyesOptions, 'plan'> & { readonly patienceMs: number },
): Promise<FastestEyes> {
  const [usual, ...others] = plans
  if (!usual) throw new Error('no plan to try')
  let best = { eyes: await openEyes({ models, providers, plan: usual }), plan: usual }
  const stills = await measuringStills()
  if (stills.length === 0) return { ...best, tried: [], isSure: false }

  const begunAt = performance.now()
  const isPatient = () => performance.now() - begunAt < patienceMs
  const tried: TriedPlan[] = []
  const measure = async (eyes: Eyes, plan: EyePlan) => {
    const stillsPerSecond = await rateOf(eyes, stills)
    tried.push({ ...plan, stillsPerSecond })
    return stillsPerSecond
  }
  await warm(best.eyes, stills)
  // A machine this slow, or this busy, has better things to do.
  if (!isPatient()) return { ...best, tried: [], isSure: false }
  let bestRate = await measure(best.eyes, best.plan)
  for (const plan of others) {
    if (!isPatient()) break
    // One after the other: two plans' eyes at once would be the most memory that the eye ever takes.
    await best.eyes.close()
    const eyes = await openEyes({ models, providers, plan })
    await warm(eyes, stills)
    const rate = await measure(eyes, plan)
    if (rate > bestRate * CLEARLY_FASTER) {
      best = { eyes, plan }
      bestRate = rate
    } else {
      await eyes.close()
      best = { ...best, eyes: await openEyes({ models, providers, plan: best.plan }) }
    }
  }

  const more = withMoreInFlight(best.plan, settings)
  if (more && isPatient()) {
    const rateWith = async (plan: EyePlan) => {
      best.eyes.workAtOnce(plan.stillsInFlight)
      return await rateOf(best.eyes, stills)
    }
    best.eyes.workAtOnce(more.stillsInFlight)
    const first = (await measure(best.eyes, more)) > bestRate * CLEARLY_FASTER
    // A third more memory is not taken on one lucky half second: each is measured once more.
    const better = first && (await rateWith(more)) > (await rateWith(best.plan)) * CLEARLY_FASTER
    best = { ...best, plan: better ? more : best.plan }
    best.eyes.workAtOnce(best.plan.stillsInFlight)
  }
  const toTry = plans.length + (more ? 1 : 0)
  return { ...best, tried, isSure: tried.length === toTry }
}

/** A session's first run makes room for all that follow. */
async function warm(eyes: Eyes, [still = new Uint8Array()]: readonly Uint8Array[]): Promise<void> {
  await Promise.all(Array.from({ length: eyes.atOnce() }, () => eyes.look(still)))
}

/** Stills a second with as many in flight as the eyes take. */
async function rateOf(eyes: Eyes, stills: readonly Uint8Array[]): Promise<number> {
  let looked = 0
  const begunAt = performance.now()
  const lane = async () => {
    do await eyes.look(stills[looked++ % stills.length] ?? new Uint8Array())
    while (performance.now() - begunAt < MEASURED_MS)
  }
  await Promise.all(Array.from({ length: eyes.atOnce() }, lane))
  return (looked * 1000) / (performance.now() - begunAt)
}

/** None where an installation leaves the demo out. */
async function measuringStills(): Promise<Buffer[]> {
  const read = STILLS.map((name) => readFile(join(demoStillsFolder, name)).catch(() => null))
  return (await Promise.all(read)).filter((bytes) => bytes !== null)
}
