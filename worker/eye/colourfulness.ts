/** How much colour is in a picture: what tells a photo in infra-red from one by day, whatever the clock says. */
import { CHANNELS, type Pixels } from './pixels.ts'

/** One pixel in so many is enough for a mean, and costs a tenth of a millisecond. */
const EVERY = 16

/**
 * The colourfulness of a picture in bytes: `sd(rg, yb) + 0.3 mean(rg, yb)` of the differences red - green and
 * (red + green) / 2 - blue, 0 for grey, about 15 for slightly and 109 for extremely colourful (Hasler & Süsstrunk 2003,
 * Measuring colourfulness in natural images, Proceedings of SPIE 5007:87-95, doi:10.1117/12.477378). Pure black is left
 * out: a letterbox is black.
 */
export function colourfulnessOf({ data }: Pick<Pixels, 'data'>): number {
  let count = 0
  let [redGreen, redGreen2, yellowBlue, yellowBlue2] = [0, 0, 0, 0]
  for (let at = 0; at + 2 < data.length; at += EVERY * CHANNELS) {
    const red = data[at]!
    const green = data[at + 1]!
    const blue = data[at + 2]!
    if (red + green + blue === 0) continue
    const rg = red - green
    const yb = (red + green) / 2 - blue
    count++
    redGreen += rg
    redGreen2 += rg * rg
    yellowBlue += yb
    yellowBlue2 += yb * yb
  }
  if (count === 0) return 0
  const rg = redGreen / count
  const yb = yellowBlue / count
  const variance = redGreen2 / count - rg * rg + yellowBlue2 / count - yb * yb
  return Math.sqrt(Math.max(0, variance)) + 0.3 * Math.hypot(rg, yb)
}
