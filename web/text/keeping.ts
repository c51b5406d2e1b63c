/** Words of Keeping photos, and of a disk that gets full. */
import type { KeepingAnswer, KeepingPreview, Room } from '../../services/http/shapes.ts'
import { plural } from './counts.ts'
import { sizeWords } from './setup.ts'
import { dayAndClock } from './times.ts'

type EmptiesRule = KeepingAnswer['keeping']['empties']

export const keepingWords = {
  hint: 'Photos with animals, photos that were flagged or unsure, and photos somebody checked always stay as they came. So do photos that are not read yet. What was seen stays written down in any case.',
  empties: 'Photos with nothing on them',
  afterDays: 'Days after they came in',
  afterDaysHint: '60 is usual. Files that could not be read go with the dropped ones.',
  save: 'Save how photos are kept',
  noLonger: 'Picture no longer kept',
  noLongerNote:
    'There was nothing on this photo, and its picture went by the rule under Keeping photos in Set-up.',
  onlySmall:
    'Only the small picture is kept: there was nothing on this photo, and it was made smaller by the rule under Keeping photos in Set-up.',
  toKeeping: 'Keeping photos',
} as const

export const EMPTIES_CHOICES: readonly { readonly value: EmptiesRule; readonly words: string }[] = [
  { value: 'keep', words: 'Keep them as they came' },
  { value: 'shrink', words: 'Keep a small picture only' },
  { value: 'drop', words: 'Drop the picture' },
]

/** What a rule would free, before it is chosen. */
export function previewWords({ photos, bytes }: KeepingPreview, empties: EmptiesRule): string {
  if (empties === 'keep') return 'Every photo is kept; nothing is freed.'
  if (photos === 0) return 'No photo would go today.'
  const about = empties === 'shrink' ? 'about ' : ''
  return `Today ${plural(photos, 'photo')} would go, and ${about}${sizeWords(bytes)} be free again.`
}

export function lastRunWords(last: NonNullable<KeepingAnswer['last']>): string {
  return `Last run ${dayAndClock(last.at)}: ${plural(last.photos, 'photo')} went, ${sizeWords(last.bytes)} freed.`
}

/** What is wrong with the room on the disk, and what to do; null where nothing is. */
export function roomWords(room: Room): { readonly what: string; readonly remedy: string } | null {
  switch (room) {
    case 'well':
      return null
    case 'low':
      return {
        what: 'The disk is getting full.',
        remedy: 'Soon no photo can come in. Free room on it, or let empty photos go.',
      }
    case 'full':
      return {
        what: 'The disk is full: photos are not coming in.',
        remedy:
          'What came in before is safe, and cameras are told to send again later. Free room on it, or let empty photos go.',
      }
  }
}
