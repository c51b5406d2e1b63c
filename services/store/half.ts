/** Embeddings as the ledger keeps them: 16-bit numbers, little-endian. */
import { Float16Array } from '@petamoriken/float16'

export function fromHalf(half: Buffer): Float32Array {
  // A copy, as a buffer of the driver may begin at an odd byte.
  const bytes = Uint8Array.from(half)
  return new Float32Array(new Float16Array(bytes.buffer))
}
