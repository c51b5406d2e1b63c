/** Large stills take turns for memory: a decoded one of 100 megapixels takes 300 MB. */

/** Waits until so many pixels may be decoded, and gives back what ends the turn. */
export type TakeTurn = (pixels: number) => Promise<() => void>

/**
 * Turns in order of asking, with at most so many pixels in hand at once. A still larger than that has its turn alone.
 */
export function openTurns(pixelsAtOnce: number): TakeTurn {
  const waiting: { readonly pixels: number; readonly begin: () => void }[] = []
  let inHand = 0
  function next(): void {
    const first = waiting[0]
    if (!first || (inHand > 0 && inHand + first.pixels > pixelsAtOnce)) return
    waiting.shift()
    inHand += first.pixels
    first.begin()
    next()
  }
  return (pixels) =>
    new Promise((resolve) => {
      let ended = false
      const end = () => {
        if (ended) return
        ended = true
        inHand -= pixels
        next()
      }
      waiting.push({ pixels, begin: () => resolve(end) })
      next()
    })
}
