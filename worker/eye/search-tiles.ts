/** The detector's second, closer look: over the tiles of a large still. */
import type { Detected, Detector } from './detector.ts'
import { letterbox, type Size, toStill } from './letterbox.ts'
import type { Pooling } from './manifest.ts'
import { type Pixels, partOf } from './pixels.ts'
import { reduce } from './prepare.ts'
import { oneBoxAnAnimal } from './suppress.ts'
import { isCut, onWholeStill, type Tile } from './tiles.ts'

/**
 * Searches tiles of a decoded still, one after the other; while the detector runs on one the next is reduced.
 * @returns boxes in pixels of the still, without those of animals that a tile cuts; neighbours may hold the same animal
 */
export async function searchTiles(
  still: Pixels,
  tiles: readonly Tile[],
  {
    detector,
    input,
    pooling,
  }: { readonly detector: Detector; readonly input: Size; readonly pooling: Pooling },
): Promise<Detected[]> {
  const found: Detected[] = []
  const shown = (tile: Tile | undefined) => {
    const picture = tile ? reduce(partOf(still, tile), letterbox(tile, input)) : null
    // Its failure is met when its turn comes, not before.
    picture?.catch(() => undefined)
    return picture
  }
  let next = shown(tiles[0])
  for (const [i, tile] of tiles.entries()) {
    const picture = await next
    if (!picture) continue
    next = shown(tiles[i + 1])
    const place = letterbox(tile, input)
    for (const one of oneBoxAnAnimal(await detector.detect(picture), pooling)) {
      const box = onWholeStill(toStill(one.box, place), tile)
      if (!isCut(box, tile, { still, input })) found.push({ ...one, box })
    }
  }
  return found
}
