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

/** Each rounded to the nearest, to the even one of two (IEEE 754-2019, 4.3.1). */
export function toHalf(embedding: Float32Array): Buffer {
  const bits = new Uint32Array(embedding.buffer, embedding.byteOffset, embedding.length)
  const half = new Uint16Array(bits.length)
  for (let i = 0; i < bits.length; i++) half[i] = halfBits(bits[i]!)
  return Buffer.from(half.buffer)
}

const SUM = new Float32Array(1)
const SUM_BITS = new Uint32Array(SUM.buffer)
const HALF_ONE_BITS = 0x3f00_0000
const LEAST_NORMAL_BITS = 0x3880_0000
const TOO_LARGE_BITS = 0x4780_0000
const INFINITE_BITS = 0x7f80_0000

/** By hand: the library's conversion took as long as all the rest of sending a result (`npm run bench -- workers`). */
function halfBits(bits: number): number {
  const sign = (bits >>> 16) & 0x8000
  const size = bits & 0x7fff_ffff
  if (size >= TOO_LARGE_BITS) return sign | (size > INFINITE_BITS ? 0x7e00 : 0x7c00)
  if (size < LEAST_NORMAL_BITS) {
    // Added to a half, the last place of the sum is the unit of such small numbers, and the addition rounds.
    SUM_BITS[0] = size
    SUM[0]! += 0.5
    return sign | (SUM_BITS[0] - HALF_ONE_BITS)
  }
  // 13 places fewer, rounded; the exponent begins 112 lower.
  const rounded = size + 0xfff + ((size >>> 13) & 1)
  return sign | ((rounded - 0x3800_0000) >>> 13)
}
