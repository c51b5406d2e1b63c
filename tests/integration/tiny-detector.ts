/** A detector of a few numbers, made here: red is a camel, green cattle, blue something else; one box a photo. */
import { createHash } from 'node:crypto'
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { attribute, constant, FLOAT, INT64, node, onnxModel, UINT8 } from '../../worker/eye/onnx-graph.ts'

const WIDTH = 64
const HEIGHT = 36
/** In an order of its own, as a manifest may say it. */
const COLUMNS = ['other', 'goat', 'donkey', 'horse', 'camel', 'cattle', 'x0', 'y0', 'x1', 'y1'] as const
const BOX = { x0: 16, y0: 9, x1: 48, y1: 27 }

const floats = (values: readonly number[]) => new Uint8Array(Float32Array.from(values).buffer)

/** Mean red, green and blue, each 0 to 1, times weights, plus the corners of one box. */
function tinyDetector(): Uint8Array {
  const weights = [
    ['camel', 0],
    ['cattle', 1],
    ['other', 2],
  ] as const
  const matrix = Array.from({ length: 3 }, (_, colour) =>
    COLUMNS.map((column) => (weights.some(([name, of]) => name === column && of === colour) ? 1 / 255 : 0)),
  ).flat()
  const corners = COLUMNS.map((column) => (column in BOX ? BOX[column as keyof typeof BOX] : 0))
  return onnxModel({
    name: 'tiny',
    operatorSet: 17,
    parts: [
      node('Cast', [['photo'], 'numbers'], attribute.int('to', FLOAT)),
      node(
        'ReduceMean',
        [['numbers'], 'colour'],
        attribute.ints('axes', [1, 2]),
        attribute.int('keepdims', 0),
      ),
      node('MatMul', [['colour', 'weights'], 'scores']),
      node('Add', [['scores', 'corners'], 'row']),
      node('Unsqueeze', [['row', 'second'], 'boxes']),
      constant('weights', { type: FLOAT, dimensions: [3, COLUMNS.length], values: floats(matrix) }),
      constant('corners', { type: FLOAT, dimensions: [COLUMNS.length], values: floats(corners) }),
      constant('second', {
        type: INT64,
        dimensions: [1],
        values: new Uint8Array(BigInt64Array.from([1n]).buffer),
      }),
    ],
    inputs: [{ name: 'photo', type: UINT8, dimensions: ['n', HEIGHT, WIDTH, 3] }],
    output: { name: 'boxes', type: FLOAT, dimensions: ['n', 1, COLUMNS.length] },
  })
}

/** Writes the detector and a manifest that names no namer. */
export async function writeTinyModels(folder: string): Promise<void> {
  const detector = tinyDetector()
  await writeFile(join(folder, 'tiny.onnx'), detector)
  const manifest = {
    format: 1,
    name: 'tiny',
    version: '1',
    species: ['goat', 'donkey', 'horse', 'camel', 'cattle'],
    detector: {
      file: 'tiny.onnx',
      sha256: createHash('sha256').update(detector).digest('hex'),
      input: { name: 'photo', type: 'uint8', layout: 'NHWC', width: WIDTH, height: HEIGHT },
      output: { name: 'boxes', shape: ['n', 1, COLUMNS.length], columns: COLUMNS },
    },
    pooling: {
      found: 'boxes with p under 0.12 are dropped',
      one_box_an_animal: 'by more than 0.5 (intersection over union) or by more than 0.85 of the smaller box',
      name: "q(s) = namer(s) x (0.15 + detector(s) / sum of the detector's six scores)",
      score: 'sqrt(p x q(s))',
    },
    thresholds: { count: 0.6, flag: 0.3 },
  }
  await writeFile(join(folder, 'manifest.json'), JSON.stringify(manifest))
}
