/** A detector of a few numbers, made here: red is a camel, green cattle, blue something else; one box a photo. */
import { createHash } from 'node:crypto'
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { BinaryWriter, WireType } from '@bufbuild/protobuf/wire'

const WIDTH = 64
const HEIGHT = 36
/** In an order of its own, as a manifest may say it. */
const COLUMNS = ['other', 'goat', 'donkey', 'horse', 'camel', 'cattle', 'x0', 'y0', 'x1', 'y1'] as const
const BOX = { x0: 16, y0: 9, x1: 48, y1: 27 }

/** A message of Protocol Buffers: writes its own fields. */
type Message = (writer: BinaryWriter) => void

const message =
  (field: number, ...parts: readonly Message[]): Message =>
  (to) => {
    write(parts)(to.tag(field, WireType.LengthDelimited).fork())
    to.join()
  }
const text =
  (field: number, value: string): Message =>
  (to) =>
    to.tag(field, WireType.LengthDelimited).string(value)
const number =
  (field: number, value: number): Message =>
  (to) =>
    to.tag(field, WireType.Varint).int64(value)
const bytes =
  (field: number, value: Uint8Array): Message =>
  (to) =>
    to.tag(field, WireType.LengthDelimited).bytes(value)
const write =
  (parts: readonly Message[]): Message =>
  (to) => {
    for (const part of parts) part(to)
  }

/** Field numbers and codes of onnx.proto (ONNX IR version 8, operator set 17; onnx.ai/onnx/repo-docs/IR.html). */
const FLOAT = 1
const UINT8 = 2
const INT64 = 7
const ints = (name: string, values: readonly number[]) =>
  message(5, text(1, name), ...values.map((value) => number(8, value)), number(20, 7))
const int = (name: string, value: number) => message(5, text(1, name), number(3, value), number(20, 2))
const node = (operator: string, inputs: readonly string[], output: string, ...attributes: Message[]) =>
  message(1, ...inputs.map((input) => text(1, input)), text(2, output), text(4, operator), ...attributes)
const constant = (name: string, type: number, dimensions: readonly number[], values: Uint8Array) =>
  message(5, ...dimensions.map((size) => number(1, size)), number(2, type), text(8, name), bytes(9, values))
const tensor = (field: 11 | 12, name: string, type: number, dimensions: readonly (number | string)[]) =>
  message(
    field,
    text(1, name),
    message(
      2,
      message(
        1,
        number(1, type),
        message(
          2,
          ...dimensions.map((one) => message(1, typeof one === 'number' ? number(1, one) : text(2, one))),
        ),
      ),
    ),
  )
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
  const graph = [
    node('Cast', ['photo'], 'numbers', int('to', FLOAT)),
    node('ReduceMean', ['numbers'], 'colour', ints('axes', [1, 2]), int('keepdims', 0)),
    node('MatMul', ['colour', 'weights'], 'scores'),
    node('Add', ['scores', 'corners'], 'row'),
    node('Unsqueeze', ['row', 'second'], 'boxes'),
    text(2, 'tiny'),
    constant('weights', FLOAT, [3, COLUMNS.length], floats(matrix)),
    constant('corners', FLOAT, [COLUMNS.length], floats(corners)),
    constant('second', INT64, [1], new Uint8Array(BigInt64Array.from([1n]).buffer)),
    tensor(11, 'photo', UINT8, ['n', HEIGHT, WIDTH, 3]),
    tensor(12, 'boxes', FLOAT, ['n', 1, COLUMNS.length]),
  ]
  const writer = new BinaryWriter()
  write([number(1, 8), message(7, ...graph), message(8, text(1, ''), number(2, 17))])(writer)
  return writer.finish()
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
