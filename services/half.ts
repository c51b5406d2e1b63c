/** Embeddings as they are kept and sent: 16-bit numbers (IEEE 754 binary16), little-endian. */
import { Float16Array } from '@petamoriken/float16'

/** What each of the 65,536 patterns of bits stands for: looking it up takes a fiftieth of working it out. */
let valueOfBits: Float32Array | null = null

function openValues(): Float32Array {
  const bits = Uint16Array.from({ length: 2 ** 16 }, (_, i) => i)
  return Float32Array.from(new Float16Array(bits.buffer))
}

/** @throws RangeError for an odd number of bytes */
export function fromHalf(half: Uint8Array): Float32Array {
  if (half.length % 2 !== 0)
    throw new RangeError(`16-bit numbers have an even number of bytes, not ${half.length}`)
  valueOfBits ??= openValues()
  const values = valueOfBits
  // By bytes: a buffer of the driver may begin at an odd one.
  const numbers = new Float32Array(half.length / 2)
  for (let i = 0; i < numbers.length; i++) numbers[i] = values[half[2 * i]! | (half[2 * i + 1]! << 8)]!
  return numbers
}

export function toHalf(embedding: Float32Array): Buffer {
  const half = new Float16Array(embedding)
  return Buffer.from(half.buffer, half.byteOffset, half.byteLength)
}
