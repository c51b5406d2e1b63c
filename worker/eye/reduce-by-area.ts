/** Reducing by two or three: each pixel is the mean of those it covers. */
import type { Size } from './letterbox.ts'
import { CHANNELS, type Pixels, type Place } from './pixels.ts'

export type Times = 2 | 3

/** How many pixels of `still` each way make one of `to`; null where it is neither two nor three. */
export function timesSmaller(still: Size, to: Size): Times | null {
  for (const times of [2, 3] as const) {
    if (still.width === to.width * times && still.height === to.height * times) return times
  }
  return null
}

/**
 * The mean of `times` x `times` pixels, rounded, laid on black: all that an area filter does for a whole number, at half
 * of what the picture library takes, which weighs each pixel for itself. Written out, as a loop over so few pixels costs
 * more than they do.
 * @returns RGB bytes of the size of `whole`
 */
export function reduceByArea(still: Pixels, times: Times, whole: Size & Place): Uint8Array {
  const canvas = new Uint8Array(whole.width * whole.height * CHANNELS)
  const reduceRow = times === 2 ? rowOfFours : rowOfNines
  const row = still.width * CHANNELS
  for (let y = 0; y < still.height / times; y++) {
    const to = ((whole.top + y) * whole.width + whole.left) * CHANNELS
    reduceRow(still.data, y * times * row, row, canvas.subarray(to, to + row / times))
  }
  return canvas
}

function rowOfFours(from: Uint8Array, first: number, row: number, to: Uint8Array): void {
  let a = first
  let b = first + row
  for (let at = 0; at < to.length; at += CHANNELS, a += 6, b += 6) {
    to[at] = (from[a]! + from[a + 3]! + from[b]! + from[b + 3]! + 2) >> 2
    to[at + 1] = (from[a + 1]! + from[a + 4]! + from[b + 1]! + from[b + 4]! + 2) >> 2
    to[at + 2] = (from[a + 2]! + from[a + 5]! + from[b + 2]! + from[b + 5]! + 2) >> 2
  }
}

function rowOfNines(from: Uint8Array, first: number, row: number, to: Uint8Array): void {
  for (let at = 0, a = first; at < to.length; at += CHANNELS, a += 9) {
    const red = three(from, a) + three(from, a + row) + three(from, a + 2 * row)
    const green = three(from, a + 1) + three(from, a + 1 + row) + three(from, a + 1 + 2 * row)
    const blue = three(from, a + 2) + three(from, a + 2 + row) + three(from, a + 2 + 2 * row)
    to[at] = (red + 4) / 9
    to[at + 1] = (green + 4) / 9
    to[at + 2] = (blue + 4) / 9
  }
}

/** One channel of three pixels in a row. */
function three(from: Uint8Array, at: number): number {
  return from[at]! + from[at + 3]! + from[at + 6]!
}
