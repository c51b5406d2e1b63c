/** The namer: which animal is in a crop. */
import ort from 'onnxruntime-node'
import type { NamerPart } from './manifest.ts'
import { CHANNELS } from './pixels.ts'

export interface Named {
  /** Six scores in the order of `NAMES`, summing to 1. */
  readonly scores: readonly number[]
  readonly embedding: Float32Array
}

export interface Namer {
  /** Names crops of RGB bytes of the input's size, in their order. */
  name(crops: readonly Uint8Array[]): Promise<Named[]>
  close(): Promise<void>
}

/** A mob of fifty is named in parts: larger runs take more memory and are no faster (`npm run bench -- batches`). */
export const MAX_CROPS_A_RUN = 4

export async function openNamer(
  namer: NamerPart,
  options: ort.InferenceSession.SessionOptions,
): Promise<Namer> {
  const session = await ort.InferenceSession.create(namer.bytes, options)
  const cropBytes = namer.sidePx * namer.sidePx * CHANNELS
  /** Room for the crops of a run, used again: one for each that is on its way. */
  const rooms: Uint8Array[] = []

  async function nameRun(crops: readonly Uint8Array[]): Promise<Named[]> {
    const room = rooms.pop() ?? new Uint8Array(MAX_CROPS_A_RUN * cropBytes)
    for (const [i, crop] of crops.entries()) room.set(crop, i * cropBytes)
    const shape = [crops.length, namer.sidePx, namer.sidePx, CHANNELS]
    const input = new ort.Tensor('uint8', room.subarray(0, crops.length * cropBytes), shape)
    const out = await session.run({ [namer.inputName]: input })
    rooms.push(room)
    return readNamed(crops.length, out, namer)
  }
  return {
    async name(crops) {
      const named: Named[] = []
      for (let from = 0; from < crops.length; from += MAX_CROPS_A_RUN)
        named.push(...(await nameRun(crops.slice(from, from + MAX_CROPS_A_RUN))))
      return named
    },
    close: () => session.release(),
  }
}

function readNamed(count: number, out: ort.InferenceSession.ReturnType, namer: NamerPart): Named[] {
  const { species, embedding } = out
  const scores = species?.data
  const numbers = embedding?.data
  if (!(scores instanceof Float32Array) || !(numbers instanceof Float32Array))
    throw new Error('the namer gave no 32-bit numbers')
  const { scoreColumns, embeddingLength } = namer
  return Array.from({ length: count }, (_, i) => ({
    scores: scoreColumns.map((column) => scores[i * scoreColumns.length + column] ?? 0),
    // A copy: a view would keep the whole batch alive.
    embedding: numbers.slice(i * embeddingLength, (i + 1) * embeddingLength),
  }))
}
