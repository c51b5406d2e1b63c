/** The detector: where in a still is an animal. */
import ort from 'onnxruntime-node'
import type { Box } from '../../services/words.ts'
import type { Models } from './manifest.ts'
import type { Candidate } from './suppress.ts'

export interface Detected extends Candidate {
  /** In pixels of the detector's input. */
  readonly box: Box
  /** Six scores in the order of `NAMES`. */
  readonly scores: readonly number[]
}

export interface Detector {
  /** Runs on RGB bytes of the input's size; gives every box at or over the floor, in no order. */
  detect(input: Uint8Array): Promise<Detected[]>
  close(): Promise<void>
}

export async function openDetector(
  { detector, pooling }: Models,
  options: ort.InferenceSession.SessionOptions,
): Promise<Detector> {
  const session = await ort.InferenceSession.create(detector.bytes, options)
  const shape = [1, detector.heightPx, detector.widthPx, 3]
  return {
    async detect(input) {
      const out = await session.run({ [detector.inputName]: new ort.Tensor('uint8', input, shape) })
      const rows = out[detector.outputName]?.data
      if (!(rows instanceof Float32Array)) throw new Error('the detector gave no 32-bit numbers')
      return overFloor(rows, detector, pooling.floor)
    },
    close: () => session.release(),
  }
}

/** Reads the rows of the detector's output whose best score is at or over the floor. */
export function overFloor(
  rows: Float32Array,
  { columnCount, cornerColumns, scoreColumns }: Models['detector'],
  floor: number,
): Detected[] {
  const found: Detected[] = []
  const scores = scoreColumns.length
  // By index: thousands of rows a photo, and nearly all of them say nothing.
  for (let row = 0; row < rows.length; row += columnCount) {
    let p = 0
    for (let i = 0; i < scores; i++) {
      const score = rows[row + scoreColumns[i]!]!
      if (score > p) p = score
    }
    if (p < floor) continue
    const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = cornerColumns.map((column) => rows[row + column])
    found.push({ box: [x0, y0, x1, y1], p, scores: scoreColumns.map((column) => rows[row + column] ?? 0) })
  }
  return found
}
