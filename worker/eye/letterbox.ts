/** Where a still lies in the detector's input, and the way back from there to the still. */
import type { Box } from '../../services/words.ts'

export interface Size {
  readonly width: number
  readonly height: number
}

/** Whole pixels of the detector's input: the still's place in it; the rest is black. */
export interface Letterbox extends Size {
  readonly left: number
  readonly top: number
  /** The detector's input and the still, full size. */
  readonly input: Size
  readonly still: Size
}

/** Fits a still into the detector's input as large as it goes, centred. A small still is enlarged. */
export function letterbox(still: Size, input: Size): Letterbox {
  const scale = Math.min(input.width / still.width, input.height / still.height)
  const width = Math.max(1, Math.min(input.width, Math.round(still.width * scale)))
  const height = Math.max(1, Math.min(input.height, Math.round(still.height * scale)))
  const left = Math.floor((input.width - width) / 2)
  const top = Math.floor((input.height - height) / 2)
  return {
    width,
    height,
    left,
    top,
    input,
    still,
  }
}

/** A box of the detector's input in pixels of the still, cut at the still's edges. */
export function toStill([x0, y0, x1, y1]: Box, { left, top, width, height, still }: Letterbox): Box {
  const across = (x: number) => clamp(((x - left) * still.width) / width, still.width)
  const down = (y: number) => clamp(((y - top) * still.height) / height, still.height)
  return [across(x0), down(y0), across(x1), down(y1)]
}

/** A box of the still in pixels of the detector's input. */
export function toInput([x0, y0, x1, y1]: Box, { left, top, width, height, still }: Letterbox): Box {
  const across = (x: number) => left + (x * width) / still.width
  const down = (y: number) => top + (y * height) / still.height
  return [across(x0), down(y0), across(x1), down(y1)]
}

function clamp(value: number, most: number): number {
  return Math.min(Math.max(value, 0), most)
}
