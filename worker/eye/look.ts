/** The eye: one still's bytes in, what is in it out. */
import { availableParallelism } from 'node:os'
import type { Found, Looked, ModelIdentity } from '../../services/words.ts'
import { cropOf, cutCrop } from './crops.ts'
import { openDetector } from './detector.ts'
import { letterbox, type Size, toStill } from './letterbox.ts'
import { type Models, readModels } from './manifest.ts'
import { openNamer } from './namer.ts'
import { bestSpecies, pooledScores } from './pool.ts'
import { decode, measure, type Pixels, reduce, reduceFromBytes, Unreadable } from './prepare.ts'
import { oneBoxAnAnimal } from './suppress.ts'

export interface EyeOptions {
  readonly modelsFolder: string
  /** Cores the models may use; all of them unless said. */
  readonly threads?: number
}

export interface Eye {
  readonly models: ModelIdentity
  /** Thresholds, pooling numbers and sizes, as the manifest says. */
  readonly rules: Pick<Models, 'pooling' | 'thresholds'>
  /** Looks at one still. Several looks at once overlap decoding with the models. */
  look(bytes: Buffer): Promise<Looked>
  close(): Promise<void>
}

/** Up to this size a still is decoded once, in full; larger ones are reduced while decoding for the detector. */
const SMALL_STILL_PX = 2_100_000

/**
 * Loads the models and checks them.
 * @throws Refusal when a model is missing or changed
 */
export async function createEye({ modelsFolder, threads }: EyeOptions): Promise<Eye> {
  const models = await readModels(modelsFolder)
  const options = { intraOpNumThreads: threads ?? availableParallelism(), interOpNumThreads: 1 }
  const detector = await openDetector(models, options)
  const namer = models.namer ? await openNamer(models.namer, options) : null
  const input: Size = { width: models.detector.widthPx, height: models.detector.heightPx }

  async function see(bytes: Buffer): Promise<Looked> {
    const size = await measure(bytes)
    const place = letterbox(size, input)
    const small = size.width * size.height <= SMALL_STILL_PX
    const early = small ? await decode(bytes) : null
    const shown = early ? await reduce(early, place) : await reduceFromBytes(bytes, place)
    const boxes = oneBoxAnAnimal(await detector.detect(shown), models.pooling).map((one) => ({
      ...one,
      box: toStill(one.box, place),
    }))
    const crops =
      models.namer && boxes.length > 0
        ? await cutAll(early ?? (await decode(bytes)), boxes, models.namer)
        : []
    const named = namer ? await namer.name(crops) : []
    const found = boxes.map(({ box, scores }, i): Found => {
      const name = named[i]
      const kept = { detector: scores, namer: name?.scores ?? null }
      const { species, score } = bestSpecies(pooledScores(kept))
      return { species, score, box, ...kept, embedding: name?.embedding ?? null }
    })
    return {
      kind: 'seen',
      ...size,
      found: found.sort((a, b) => b.score - a.score),
      models: models.identity,
    }
  }

  return {
    models: models.identity,
    rules: { pooling: models.pooling, thresholds: models.thresholds },
    async look(bytes) {
      try {
        return await see(bytes)
      } catch (error) {
        if (error instanceof Unreadable) return { kind: 'unreadable', reason: error.message }
        throw error
      }
    },
    async close() {
      await detector.close()
      await namer?.close()
    },
  }
}

function cutAll(
  still: Pixels,
  boxes: readonly Pick<Found, 'box'>[],
  namer: NonNullable<Models['namer']>,
): Promise<Uint8Array[]> {
  return Promise.all(boxes.map(({ box }) => cutCrop(still, cropOf(box, still, namer), namer.sidePx)))
}
