/**
 * Bicubic enlarging by the runtime that runs the models. A still's many small crops are most of what it costs beside
 * the models; the picture library enlarges them pixel by pixel, this in two passes, at a third of the time.
 */
import { BinaryWriter, WireType } from '@bufbuild/protobuf/wire'
import ort from 'onnxruntime-node'
import { CHANNELS, type Pixels } from './prepare.ts'

export interface Enlarger {
  /** Resizes by cubic convolution (Keys 1981, doi:10.1109/TASSP.1981.1163711, a = -0.5), weights within the picture alone. */
  enlarge(picture: Pixels, to: { readonly width: number; readonly height: number }): Promise<Uint8Array>
  close(): Promise<void>
}

/** Sizes differ from crop to crop: an arena would keep a block for each. */
const SESSION_OPTIONS = { intraOpNumThreads: 1, interOpNumThreads: 1, enableCpuMemArena: false }

export async function openEnlarger(): Promise<Enlarger> {
  const session = await ort.InferenceSession.create(enlargingModel(), SESSION_OPTIONS)
  return {
    async enlarge({ data, width, height }, to) {
      const size = BigInt64Array.from([1, CHANNELS, to.height, to.width].map(BigInt))
      const out = await session.run({
        picture: new ort.Tensor('uint8', data, [1, height, width, CHANNELS]),
        size: new ort.Tensor('int64', size, [size.length]),
      })
      const enlarged = out.enlarged?.data
      if (!(enlarged instanceof Uint8Array)) throw new Error('enlarging gave no bytes')
      return enlarged
    },
    close: () => session.release(),
  }
}

/** A message of Protocol Buffers: writes its own fields. */
type Message = (writer: BinaryWriter) => void

const message =
  (field: number, write: Message): Message =>
  (to) => {
    write(to.tag(field, WireType.LengthDelimited).fork())
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
const all =
  (...parts: readonly Message[]): Message =>
  (to) => {
    for (const part of parts) part(to)
  }

/** Field numbers and codes of onnx.proto (ONNX IR version 8, operator set 18; onnx.ai/onnx/repo-docs/IR.html). */
const UINT8 = 2
const INT64 = 7
const attribute = {
  float: (name: string, value: number) =>
    message(
      5,
      all(text(1, name), (to) => to.tag(2, WireType.Bit32).float(value), number(20, 1)),
    ),
  int: (name: string, value: number) => message(5, all(text(1, name), number(3, value), number(20, 2))),
  string: (name: string, value: string) => message(5, all(text(1, name), text(4, value), number(20, 3))),
  ints: (name: string, values: readonly number[]) =>
    message(5, all(text(1, name), ...values.map((value) => number(8, value)), number(20, 7))),
}

function node(operator: string, [inputs, output]: readonly [string[], string], ...attributes: Message[]) {
  return message(
    1,
    all(...inputs.map((input) => text(1, input)), text(2, output), text(4, operator), ...attributes),
  )
}

function tensor(field: 11 | 12, [name, type]: readonly [string, number], dimensions: (number | string)[]) {
  const shape = dimensions.map((one) => message(1, typeof one === 'number' ? number(1, one) : text(2, one)))
  return message(
    field,
    all(text(1, name), message(2, message(1, all(number(1, type), message(2, all(...shape)))))),
  )
}

/**
 * `Resize` wants its channels first; the two `Transpose` put them there and back.
 * With `antialias` ONNX Runtime takes its fast path for bytes, which for enlarging gives the same pixels.
 */
function enlargingModel(): Uint8Array {
  const resize = node(
    'Resize',
    [['planes', '', '', 'size'], 'large'],
    attribute.string('mode', 'cubic'),
    attribute.float('cubic_coeff_a', -0.5),
    attribute.int('antialias', 1),
    attribute.int('exclude_outside', 1),
    attribute.string('coordinate_transformation_mode', 'half_pixel'),
  )
  const graph = all(
    node('Transpose', [['picture'], 'planes'], attribute.ints('perm', [0, 3, 1, 2])),
    resize,
    node('Transpose', [['large'], 'enlarged'], attribute.ints('perm', [0, 2, 3, 1])),
    text(2, 'enlarge'),
    tensor(11, ['picture', UINT8], [1, 'height', 'width', CHANNELS]),
    tensor(11, ['size', INT64], [4]),
    tensor(12, ['enlarged', UINT8], [1, 'to_height', 'to_width', CHANNELS]),
  )
  const writer = new BinaryWriter()
  all(number(1, 8), message(7, graph), message(8, all(text(1, ''), number(2, 18))))(writer)
  return writer.finish()
}
