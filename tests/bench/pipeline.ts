/** How much of the bare models' speed the whole pipeline keeps, and the memory it takes. */
import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { demoStillsFolder, modelsFolder } from '../../services/paths.ts'
import { readModels } from '../../worker/eye/manifest.ts'
import { MEASURE_MS, openPlannedEyes } from '../../worker/eye/open.ts'
import { planWords } from '../../worker/eye/plan.ts'
import { readEyeSettings } from '../../worker/eye/settings.ts'
import { openBare } from './bare.ts'
import { median, type Round, round } from './rounds.ts'

/** Alternating, so that what else the machine does falls on both alike; the median of each is taken. */
const ROUNDS = 5
/** Every fourth still: from all ten points, empty, cattle, feral, by day and by night. */
const EVERY = 4

export interface PipelineFigures {
  readonly pipelinePerSecond: number
  readonly barePerSecond: number
  /** Pipeline rate over bare rate, 0 to 1: by the clock. */
  readonly ratio: number
  /** Bare processor time over the pipeline's: what the ratio comes to on idle cores. */
  readonly cpuRatio: number
  /** Most memory held by the process that runs the pipeline, before the bare sessions are loaded. */
  readonly peakMegabytes: number
}

/** Measures on the demo's stills; prints what it finds. */
export async function benchPipeline(): Promise<PipelineFigures> {
  const names = (await readdir(demoStillsFolder)).filter((name) => name.endsWith('.jpg')).sort()
  const all = await Promise.all(names.map((name) => readFile(join(demoStillsFolder, name))))
  const stills = all.filter((_, i) => i % EVERY === 0)
  const settings = readEyeSettings(process.env)
  const { eyes, plan } = await openPlannedEyes({ modelsFolder, settings, measureMs: MEASURE_MS })
  const atOnce = plan.stillsInFlight
  const look = (from: readonly Uint8Array[]) => (i: number) => eyes.look(from[i] ?? new Uint8Array())
  await round(look(all), all.length, atOnce)
  const overlapped = await round(look(stills), stills.length, atOnce)
  const inTurn = await round(look(stills), stills.length, plan.eyeThreads)
  const peakMegabytes = process.resourceUsage().maxRSS / 1024

  const models = await readModels(modelsFolder)
  const bare = await openBare({ models, run: plan, stills }, plan)
  await round(bare.run, stills.length, atOnce)
  const pairs: { pipeline: Round; bare: Round }[] = []
  for (let i = 0; i < ROUNDS; i++) {
    const pipeline = await round(look(stills), stills.length, atOnce)
    pairs.push({ pipeline, bare: await round(bare.run, stills.length, atOnce) })
  }
  await Promise.all([eyes.close(), bare.close()])

  const middle = (of: (pair: (typeof pairs)[number]) => number) => median(pairs.map(of))
  const pipelinePerSecond = middle(({ pipeline }) => pipeline.stillsPerSecond)
  const barePerSecond = middle((pair) => pair.bare.stillsPerSecond)
  const figures: PipelineFigures = {
    pipelinePerSecond,
    barePerSecond,
    ratio: pipelinePerSecond / barePerSecond,
    cpuRatio: middle((pair) => pair.bare.cpuMsPerStill) / middle(({ pipeline }) => pipeline.cpuMsPerStill),
    peakMegabytes,
  }
  process.stdout.write(
    `${[
      `pipeline: ${stills.length} stills, ${planWords(plan)} (${plan.from}), median of ${ROUNDS} rounds`,
      `  pipeline       ${pipelinePerSecond.toFixed(2)} stills/s`,
      `  bare sessions  ${barePerSecond.toFixed(2)} stills/s`,
      `  ratio          ${figures.ratio.toFixed(3)} by the clock, ${figures.cpuRatio.toFixed(3)} by processor time`,
      `  overlap        ${coresIn(overlapped)} cores in use; ${coresIn(inTurn)} with one still in each eye`,
      `  peak memory    ${peakMegabytes.toFixed(0)} MB`,
    ].join('\n')}\n`,
  )
  return figures
}

/** More than one for each eye: decoding goes on while the models run. */
function coresIn({ stillsPerSecond, cpuMsPerStill }: Round): string {
  return ((stillsPerSecond * cpuMsPerStill) / 1000).toFixed(2)
}
