/** Memory given back when it is no longer used, not when V8 comes to it. */
import { setImmediate } from 'node:timers/promises'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'

setFlagsFromString('--expose-gc')
const collect: unknown = runInNewContext('gc')

/**
 * Frees decoded stills that nothing holds any more. V8 goes by the size of its own heap; the pixels lie outside of it, and
 * two stills of 300 MB one after the other would be 600 MB.
 */
export async function giveBackMemory(): Promise<void> {
  if (typeof collect === 'function') collect()
  // Buffers of native libraries are freed in the event loop's next round.
  await setImmediate()
}
