/** Writes small ONNX graphs (ONNX IR version 8, onnx.proto; onnx.ai/onnx/repo-docs/IR.html). */
import { BinaryWriter, WireType } from '@bufbuild/protobuf/wire'

/** A message of Protocol Buffers: writes its own fields. */
export type Message = (writer: BinaryWriter) => void

/** Codes of the types of a tensor's elements. */
export const FLOAT = 1
export const UINT8 = 2
export const INT64 = 7

const IR_VERSION = 8

const message =
  (field: number, ...parts: readonly Message[]): Message =>
  (to) => {
    const inner = to.tag(field, WireType.LengthDelimited).fork()
    for (const part of parts) part(inner)
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

export const attribute = {
  float: (name: string, value: number) =>
    message(5, text(1, name), (to) => to.tag(2, WireType.Bit32).float(value), number(20, 1)),
  int: (name: string, value: number) => message(5, text(1, name), number(3, value), number(20, 2)),
  string: (name: string, value: string) => message(5, text(1, name), text(4, value), number(20, 3)),
  ints: (name: string, values: readonly number[]) =>
    message(5, text(1, name), ...values.map((value) => number(8, value)), number(20, 7)),
}

export function node(
  operator: string,
  [inputs, output]: readonly [readonly string[], string],
  ...attributes: readonly Message[]
): Message {
  return message(
    1,
    ...inputs.map((input) => text(1, input)),
    text(2, output),
    text(4, operator),
    ...attributes,
  )
}

/** Values that are part of the graph, as little-endian bytes. */
export function constant(
  name: string,
  { type, dimensions, values }: { type: number; dimensions: readonly number[]; values: Uint8Array },
): Message {
  return message(
    5,
    ...dimensions.map((size) => number(1, size)),
    number(2, type),
    text(8, name),
    bytes(9, values),
  )
}

/** A size that is a name may be any. */
export interface TensorShape {
  readonly name: string
  readonly type: number
  readonly dimensions: readonly (number | string)[]
}

function tensor(field: 11 | 12, { name, type, dimensions }: TensorShape): Message {
  const shape = dimensions.map((one) => message(1, typeof one === 'number' ? number(1, one) : text(2, one)))
  return message(field, text(1, name), message(2, message(1, number(1, type), message(2, ...shape))))
}

/** A whole model: its nodes and constants in order, and what goes in and comes out. */
export function onnxModel(given: {
  readonly name: string
  readonly operatorSet: number
  readonly parts: readonly Message[]
  readonly inputs: readonly TensorShape[]
  readonly output: TensorShape
}): Uint8Array {
  const graph = message(
    7,
    ...given.parts,
    text(2, given.name),
    ...given.inputs.map((input) => tensor(11, input)),
    tensor(12, given.output),
  )
  const writer = new BinaryWriter()
  for (const part of [number(1, IR_VERSION), graph, message(8, text(1, ''), number(2, given.operatorSet))])
    part(writer)
  return writer.finish()
}
