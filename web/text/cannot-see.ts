/** What keeps a camera from seeing, in a few words. */
import type { Trouble } from '../../services/http/camera-shapes.ts'

/** What a camera here can't see for, on the water run: `Camera can’t see: knocked`. */
export function cannotSeeWords(kinds: readonly Trouble['kind'][]): string {
  const short = {
    blind: 'lens blind',
    knocked: 'knocked',
    'card full': 'card full',
    unreadable: 'unreadable photos',
  }
  return `Camera can’t see: ${kinds.map((kind) => short[kind]).join(', ')}`
}
