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
 * The mean of `times` x `times` pixels, rounded, laid on black: all that an area filter does for a whole number, at a
 * third of what the picture library takes, which weighs each pixel for itself. Written out, as a loop over so few pixels
 * costs more than they do.
 * @returns RGB bytes of the size of `whole`
 */
export function reduceByArea(still: Pixels, times: Times, whole: Size & Place): Uint8Array {
  const canvas = new Uint8Array(whole.width * whole.height * CHANNELS)
  const row = still.width * CHANNELS
  const words = times === 2 && row % WORD === 0 ? wordsOf(still.data) : null
  for (let y = 0; y < still.height / times; y++) {
    const start = ((whole.top + y) * whole.width + whole.left) * CHANNELS
    const to = canvas.subarray(start, start + row / times)
    const from = y * times * row
    if (words !== null) rowOfFoursByWords(words, from / WORD, row / WORD, to)
    else if (times === 2) rowOfFours(still.data, from, row, to)
    else rowOfNines(still.data, from, row, to)
  }
  return canvas
}

const WORD = 4

/** The same bytes four at a time, the first one lowest, as on every machine that ONNX Runtime runs on. */
function wordsOf(data: Uint8Array): Int32Array {
  const aligned = data.byteOffset % WORD === 0 ? data : data.slice()
  return new Int32Array(aligned.buffer, aligned.byteOffset, aligned.length / WORD)
}

const EVERY_OTHER = 0x00ff00ff

/** Two rows are added two bytes at a time, each in its half of a word; a third less than byte by byte. */
function rowOfFoursByWords(from: Int32Array, first: number, row: number, to: Uint8Array): void {
  for (let at = 0, a = first, b = first + row; at < to.length; at += 6, a += 3, b += 3) {
    const a0 = from[a]!
    const a1 = from[a + 1]!
    const a2 = from[a + 2]!
    const b0 = from[b]!
    const b1 = from[b + 1]!
    const b2 = from[b + 2]!
    const red0Blue0 = (a0 & EVERY_OTHER) + (b0 & EVERY_OTHER)
    const green0Red1 = ((a0 >>> 8) & EVERY_OTHER) + ((b0 >>> 8) & EVERY_OTHER)
    const green1Red2 = (a1 & EVERY_OTHER) + (b1 & EVERY_OTHER)
    const blue1Green2 = ((a1 >>> 8) & EVERY_OTHER) + ((b1 >>> 8) & EVERY_OTHER)
    const blue2Green3 = (a2 & EVERY_OTHER) + (b2 & EVERY_OTHER)
    const red3Blue3 = ((a2 >>> 8) & EVERY_OTHER) + ((b2 >>> 8) & EVERY_OTHER)
    to[at] = ((red0Blue0 & 0xffff) + (green0Red1 >>> 16) + 2) >> 2
    to[at + 1] = ((green0Red1 & 0xffff) + (green1Red2 & 0xffff) + 2) >> 2
    to[at + 2] = ((red0Blue0 >>> 16) + (blue1Green2 & 0xffff) + 2) >> 2
    to[at + 3] = ((green1Red2 >>> 16) + (red3Blue3 & 0xffff) + 2) >> 2
    to[at + 4] = ((blue1Green2 >>> 16) + (blue2Green3 >>> 16) + 2) >> 2
    to[at + 5] = ((blue2Green3 & 0xffff) + (red3Blue3 >>> 16) + 2) >> 2
  }
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
