/** Words of the frame round every screen. */
import type { Progress } from '../../services/http/shapes.ts'
import { againProgressWords } from './again.ts'
import { plural } from './counts.ts'

export const shellWords = {
  product: 'Hooftally',
  skip: 'Skip to the page',
  tabs: {
    waterRun: 'Water run',
    check: 'Photos to check',
    pressure: 'Grazing pressure',
    yards: 'Trap yards',
    programs: 'Programs',
    setup: 'Set-up',
  },
  navigation: 'Screens',
  toDark: 'Dark',
  toLight: 'Light',
  themeLabel: (to: string) => `Change to the ${to.toLowerCase()} look`,
  demo: 'Demo station: invented places and animals.',
  loading: 'Loading',
  notFound: { what: 'There is no such page.', remedy: 'Go back to the water run.', action: 'Water run' },
  more: 'Show more',
  loadingMore: 'Loading more',
  boxes: 'Boxes',
  on: 'on',
  off: 'off',
} as const

/** `Making the demo's past: 420 of 1,650; 12 photos being read`; null when nothing is under way. */
export function progressWords(progress: Progress): string | null {
  const parts: string[] = []
  const { making, waiting } = progress
  if (making !== null) {
    const [made, of] = [making.made, making.of].map((count) => count.toLocaleString('en-AU'))
    parts.push(`Making the demo’s past: ${made} of ${of}`)
  }
  if (waiting > 0) parts.push(`${plural(waiting, 'photo')} being read`)
  parts.push(...againProgressWords(progress))
  return parts.length === 0 ? null : parts.join('; ')
}
