/** The eye: one still's bytes in, what is in it out. */
import { MAX_PICTURE_MEGAPIXELS } from '../../services/picture-formats.ts'
import type { Box, Found, Looked, ModelIdentity } from '../../services/words.ts'
import { colourfulnessOf } from './colourfulness.ts'
import { cropOf, cutCrop } from './crops.ts'
import { giveBackMemory } from './give-back.ts'
import { letterbox, type Size, toInput, toStill } from './letterbox.ts'
import { type Models, readModels } from './manifest.ts'
import type { Pixels } from './pixels.ts'
import { bestSpecies, pooledScores } from './pool.ts'
import { decode, decodeUpTo, measure, reduce, reduceFromBytes, Unreadable } from './prepare.ts'
import { searchTiles } from './search-tiles.ts'
import { openSessions, type Sessions } from './sessions.ts'
import { sharpnessOf } from './sharpness.ts'
import { oneBoxAnAnimal } from './suppress.ts'
import { tilesOf } from './tiles.ts'
import { openTurns, type TakeTurn } from './turns.ts'
import { wholePicture } from './whole-picture.ts'

export interface LookOptions {
  /** Searches a large still in overlapping tiles as well; not unless said. */
  readonly tiles?: boolean | undefined
}

export interface Eye {
  readonly models: ModelIdentity
  /** The thresholds the models were made for; an owner may set others. */
  readonly thresholds: Models['thresholds']
  /** Looks at one still. Looks may overlap: while the models run, other stills are decoded. */
  look(bytes: Uint8Array, options?: LookOptions): Promise<Looked>
  close(): Promise<void>
}

/** Up to this size a still is decoded once, in full; larger ones are reduced while decoding for the detector. */
const SMALL_STILL_PX = 2_100_000
/** Above it the memory of a still is given back at once: that costs some milliseconds, of the hundreds such a still takes. */
const GIVEN_BACK_OVER_PX = 20e6

/**
 * Loads the models of a folder into this thread.
 * @throws Refusal when a model is missing or changed
 */
export async function createEye({ modelsFolder }: { readonly modelsFolder: string }): Promise<Eye> {
  const models = await readModels(modelsFolder)
  return eyeOf(models, await openSessions(models))
}

/**
 * An eye over models that are already loaded.
 * @param takeTurn shared by the eyes of a process, as they share its memory
 */
export function eyeOf(
  models: Models,
  { detector, namer, enlarger }: Sessions,
  takeTurn: TakeTurn = openTurns(MAX_PICTURE_MEGAPIXELS * 1e6),
): Eye {
  const input = { width: models.detector.widthPx, height: models.detector.heightPx }

  async function see(bytes: Buffer, { tiles = false }: LookOptions): Promise<Looked> {
    const small = await decodeUpTo(bytes, SMALL_STILL_PX)
    if (small !== null) return await seeSized(bytes, { size: small, early: small, tiles })
    const size = await measure(bytes)
    const pixels = size.width * size.height
    const endTurn = await takeTurn(pixels)
    try {
      return await seeSized(bytes, { size, early: null, tiles })
    } finally {
      if (pixels > GIVEN_BACK_OVER_PX) await giveBackMemory()
      endTurn()
    }
  }

  async function seeSized(
    bytes: Buffer,
    given: { readonly size: Size; readonly early: Pixels | null; readonly tiles: boolean },
  ): Promise<Looked> {
    const size = { width: given.size.width, height: given.size.height }
    const parts = given.tiles ? tilesOf(size, input) : []
    const place = letterbox(size, input)
    const early = given.early ?? (parts.length > 0 ? await decode(bytes) : null)
    const shown = early ? await reduce(early, place) : await reduceFromBytes(bytes, place)
    const whole = oneBoxAnAnimal(await detector.detect(shown), models.pooling).map((one) => ({
      ...one,
      box: toStill(one.box, place),
    }))
    const closer = early ? await searchTiles(early, parts, { detector, input, pooling: models.pooling }) : []
    const boxes = closer.length > 0 ? oneBoxAnAnimal([...whole, ...closer], models.pooling) : whole
    const crops = namer && boxes.length > 0 ? await cropsOf(boxes, early ?? (await decode(bytes))) : []
    const named = namer ? await namer.name(crops) : []
    const found = boxes.map(({ box, scores }, i): Found => {
      const name = named[i]
      const kept = { detector: scores, namer: name?.scores ?? null }
      const { species, score } = bestSpecies(pooledScores(kept))
      return { species, score, box, ...kept, embedding: name?.embedding ?? null }
    })
    found.sort((a, b) => b.score - a.score)
    return {
      kind: 'seen',
      ...size,
      found,
      colourfulness: colourfulnessOf({ data: shown }),
      whole: wholePicture({ data: shown, ...input }, place),
      ...(found[0] && { sharpness: sharpnessOf({ data: shown, ...input }, toInput(found[0].box, place)) }),
      models: models.identity,
    }
  }

  async function cropsOf(boxes: readonly { box: Box }[], still: Pixels) {
    const part = models.namer
    if (!part) return []
    const { sidePx } = part
    const cut = ({ box }: { box: Box }) => cutCrop(still, cropOf(box, still, part), { sidePx, enlarger })
    if (still.width * still.height <= SMALL_STILL_PX) return Promise.all(boxes.map(cut))
    // One by one: a crop out of a large still may be large itself until it is reduced.
    const crops: Uint8Array[] = []
    for (const box of boxes) crops.push(await cut(box))
    return crops
  }

  return {
    models: models.identity,
    thresholds: models.thresholds,
    async look(bytes, options = {}) {
      try {
        return await see(Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength), options)
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
