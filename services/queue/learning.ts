/** Learns the station's own animals from its checks in the background, once their number has doubled. */
import { randomUUID } from 'node:crypto'
import { learnApart } from '../../worker/learner/learn-apart.ts'
import { type Kind, kindsWith } from '../learning/kinds.ts'
import { learnedKinds } from '../learning/learned-kinds.ts'
import { isTimeToAsk } from '../learning/trial.ts'
import { recordAsking } from '../store/askings.ts'
import { type LabelledCrop, listLabelledCrops, readCheckedCrops } from '../store/checked-crops.ts'
import { presentModels } from '../store/namer-in-use.ts'
import { type LastAsking, lastAsking, readNamerSettings } from '../store/namers.ts'
import type { Ledger } from '../store/open.ts'
import { listOwnKinds } from '../store/own-kinds.ts'
import { stopRerunOfOtherModels } from '../store/reruns.ts'
import { findSettings } from '../store/settings.ts'
import { type Instant, type ModelIdentity, SPECIES, type Species } from '../words.ts'

export interface Learning {
  /** There are new words, or new kinds. */
  wake(): void
  /** It is learning now. */
  isAtWork(): boolean
  /** Resolves once nothing is left to ask. */
  settled(): Promise<void>
  /** What is being learned is given up: it is asked again at the next start. */
  stop(): Promise<void>
}

/** More would take longer and longer to learn, and say little more. The latest are the ones learned from. */
const MOST_CROPS = 4_000
/** People check many photos one after the other. */
const AFTER_WORDS_MS = 20_000
const ROUND_MS = 600_000

export interface LearningOptions {
  readonly models: ModelIdentity
  readonly now: () => Instant
  readonly log: (line: string) => void
  readonly afterWordsMs?: number
}

export function startLearning(
  ledger: Ledger,
  { models, now, log, afterWordsMs = AFTER_WORDS_MS }: LearningOptions,
): Learning {
  const stopping = new AbortController()
  let running: Promise<void> | null = null
  let again = false
  let timer: NodeJS.Timeout | null = null
  let isAtWork = false

  async function askOnce(): Promise<void> {
    const settings = await findSettings(ledger)
    // Without a namer there is nothing to learn from: no embeddings are kept.
    if (settings === null || models.namerSha256 === null) return
    const ownKinds = (await listOwnKinds(ledger)).map(({ name }) => name)
    const { absent } = await readNamerSettings(ledger)
    const labelled = await listLabelledCrops(ledger, { models, marks: settings.thresholds, ownKinds })
    const last = await lastAsking(ledger, models)
    const kinds = kindsWith(ownKinds)
    if (
      !isTimeToAsk(labelled.length, last?.crops ?? null) &&
      !tellsOthersApart(labelled, { kinds, absent, last })
    )
      return
    const learned = await readCheckedCrops(ledger, labelled.slice(0, MOST_CROPS))
    if (learned.length === 0) return
    const marks = Object.fromEntries(
      SPECIES.map((species) => [species, settings.thresholds[species].count]),
    ) as Record<Species, number>
    const seed = randomUUID()
    isAtWork = true
    try {
      const question = { crops: learned.map(({ crop }) => crop), kinds, absent, seed, marks }
      const answer = await learnApart(question, stopping.signal)
      const version = await recordAsking(ledger, {
        ...answer,
        models,
        labels: learned.map(({ label }) => label),
        crops: labelled.length,
        seed,
        marks,
        at: now(),
        after: last?.version ?? null,
      })
      if (version === null) return
      log(`learned from ${learned.length} checked animals: version ${version}, ${answer.trial.verdict}`)
      await stopRerunOfOtherModels(ledger, await presentModels(ledger, models))
    } finally {
      isAtWork = false
    }
  }

  function wake(): void {
    again = true
    if (running !== null || timer !== null || stopping.signal.aborted) return
    timer = setTimeout(() => {
      timer = null
      run()
    }, afterWordsMs)
  }

  function run(): void {
    if (running !== null || stopping.signal.aborted) return
    again = false
    running = askOnce()
      .catch((fault: unknown) => {
        // Asked again at the next word or round; the ledger knows what was not asked.
        if (!stopping.signal.aborted) log(`learning from checks: ${String(fault)}`)
      })
      .finally(() => {
        running = null
        if (again) wake()
      })
  }

  const round = setInterval(run, ROUND_MS)
  wake()
  return {
    wake,
    isAtWork: () => isAtWork,
    async settled() {
      if (timer !== null) {
        clearTimeout(timer)
        timer = null
        run()
      }
      await running
    },
    async stop() {
      clearInterval(round)
      if (timer !== null) clearTimeout(timer)
      stopping.abort()
      await running
    },
  }
}

/** Whether other kinds can be learned than at the last asking: another question than the one that was answered. */
function tellsOthersApart(
  labelled: readonly LabelledCrop[],
  given: {
    readonly kinds: readonly Kind[]
    readonly absent: readonly Kind[]
    readonly last: LastAsking | null
  },
): boolean {
  if (given.last === null) return false
  const crops = labelled.map((one) => ({ ...one, camera: String(one.cameraId) }))
  const learned = learnedKinds(crops, Int32Array.from(crops.keys()), given).map(
    (place) => given.kinds[place]!,
  )
  return learned.join() !== given.last.learned.join()
}
