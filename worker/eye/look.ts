/** The eye: one still's bytes in, what is in it out. */
import type { Box, Found, Looked, ModelIdentity } from '../../services/words.ts'
import { cropOf, cutCrop } from './crops.ts'
import { type Detector, openDetector } from './detector.ts'
import { type Enlarger, openEnlarger } from './enlarge.ts'
import { letterbox, type Size, toStill } from './letterbox.ts'
import { type Models, readModels } from './manifest.ts'
import { type Namer, openNamer } from './namer.ts'
import { bestSpecies, pooledScores } from './pool.ts'
import { decode, measure, type Pixels, reduce, reduceFromBytes, Unreadable } from './prepare.ts'
import { oneBoxAnAnimal } from './suppress.ts'

export interface Eye {
  readonly models: ModelIdentity
  /** The thresholds the models were made for; an owner may set others. */
  readonly thresholds: Models['thresholds']
  /** Looks at one still. Looks may overlap: while the models run, other stills are decoded. */
  look(bytes: Uint8Array): Promise<Looked>
  close(): Promise<void>
}

/**
 * One core for each run of a model. `session.run` holds its JavaScript thread, so more cores are used by more
 * eyes (`openEyes`), not by more threads in a run: those wait for each other, and badly so on a busy machine.
 * Each session's memory stays bounded because no run is larger than `MAX_CROPS_A_RUN`.
 */
export const SESSION_OPTIONS = { intraOpNumThreads: 1, interOpNumThreads: 1 }

/** Up to this size a still is decoded once, in full; larger ones are reduced while decoding for the detector. */
const SMALL_STILL_PX = 2_100_000

/**
 * Loads the models of a folder into this thread.
 * @throws Refusal when a model is missing or changed
 */
export async function createEye({ modelsFolder }: { readonly modelsFolder: string }): Promise<Eye> {
  const models = await readModels(modelsFolder)
  return eyeOf(models, await openSessions(models))
}

export interface Sessions {
  readonly detector: Detector
  /** Null where a station brings a detector alone. */
  readonly namer: Namer | null
  readonly enlarger: Enlarger
}

/** Loads the models into ONNX Runtime. */
export async function openSessions(models: Models): Promise<Sessions> {
  return {
    detector: await openDetector(models, SESSION_OPTIONS),
    namer: models.namer && (await openNamer(models.namer, SESSION_OPTIONS)),
    enlarger: await openEnlarger(),
  }
}

/** An eye over models that are already loaded. */
export function eyeOf(models: Models, { detector, namer, enlarger }: Sessions): Eye {
  const input = { width: models.detector.widthPx, height: models.detector.heightPx }
  const inTurn = oneAtATime()

  async function see(bytes: Buffer): Promise<Looked> {
    const size = await measure(bytes)
    const place = letterbox(size, input)
    const early = size.width * size.height <= SMALL_STILL_PX ? await decode(bytes) : null
    const shown = early ? await reduce(early, place) : await reduceFromBytes(bytes, place)
    const boxes = oneBoxAnAnimal(await detector.detect(shown), models.pooling).map((one) => ({
      ...one,
      box: toStill(one.box, place),
    }))
    const crops = namer && boxes.length > 0 ? await cropsOf(boxes, size, early ?? bytes) : []
    const named = namer ? await namer.name(crops) : []
    const found = boxes.map(({ box, scores }, i): Found => {
      const name = named[i]
      const kept = { detector: scores, namer: name?.scores ?? null }
      const { species, score } = bestSpecies(pooledScores(kept))
      return { species, score, box, ...kept, embedding: name?.embedding ?? null }
    })
    found.sort((a, b) => b.score - a.score)
    return { kind: 'seen', ...size, found, models: models.identity }
  }

  async function cropsOf(boxes: readonly { box: Box }[], size: Size, still: Pixels | Buffer) {
    const part = models.namer
    if (!part) return []
    const { sidePx } = part
    const cut = (pixels: Pixels) =>
      Promise.all(boxes.map(({ box }) => cutCrop(pixels, cropOf(box, size, part), { sidePx, enlarger })))
    // A still of 100 megapixels takes 300 MB decoded, so large ones wait for each other.
    return Buffer.isBuffer(still) ? inTurn(async () => cut(await decode(still))) : cut(still)
  }

  return {
    models: models.identity,
    thresholds: models.thresholds,
    async look(bytes) {
      try {
        return await see(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength))
      } catch (error) {
        if (error instanceof Unreadable) return { kind: 'unreadable', reason: error.message }
        throw error
      }
    },
    async close() {
      await detector.close()
      await namer?.close()
      await enlarger.close()
    },
  }
}

/** Runs what it is given one after the other, whatever became of the one before. */
function oneAtATime(): <T>(work: () => Promise<T>) => Promise<T> {
  let before: Promise<unknown> = Promise.resolve()
  return (work) => {
    const now = before.then(work, work)
    before = now.catch(() => undefined)
    return now
  }
}
