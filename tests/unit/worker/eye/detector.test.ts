import { expect, test } from 'vitest'
import { overFloor } from '../../../../worker/eye/detector.ts'

// A detector of a station's own may have its columns in any order: here the scores come first.
const columns = {
  bytes: new Uint8Array(),
  widthPx: 640,
  heightPx: 384,
  inputName: 'image',
  outputName: 'found',
  columnCount: 10,
  scoreColumns: [1, 0, 2, 3, 4, 5],
  cornerColumns: [6, 7, 8, 9],
}

test('boxes at the floor are kept, boxes under it dropped, and scores come in the eye’s own order', () => {
  const rows = new Float32Array([
    ...[0.25, 0.5, 0, 0, 0, 0, 10, 20, 30, 40],
    ...[0, 0.1, 0.1, 0, 0, 0.1, 0, 0, 5, 5],
    ...[0, 0, 0, 0, 0, 0.125, 1, 2, 3, 4],
  ])
  expect(overFloor(rows, columns, 0.125)).toEqual([
    { box: [10, 20, 30, 40], p: 0.5, scores: [0.5, 0.25, 0, 0, 0, 0] },
    { box: [1, 2, 3, 4], p: 0.125, scores: [0, 0, 0, 0, 0, 0.125] },
  ])
})
