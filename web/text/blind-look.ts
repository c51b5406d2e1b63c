/** Words of the blind look. */
import type { AuditAnswer } from '../../services/http/audit-shapes.ts'
import type { Tally } from '../../services/words.ts'
import { plural, tallyWords } from './counts.ts'
import { dayName } from './times.ts'

export const blindLookWords = {
  title: 'Blind look',
  lead: 'These photos were drawn by lot. Say what is in them before you see what the camera count made of them: only so can its mistakes be told.',
  open: (count: number) => `${plural(count, 'look')} to go`,
  nothing: 'Nothing there',
  /** Of the animals that are counted; dogs, roos and birds are nothing here. */
  nothingHint: 'Only cattle, camels, horses, donkeys and goats count here.',
  all: 'That is all',
  asBefore: 'As in the photo before',
  nothingInAny: (photos: number) => `Nothing in any of the ${photos} photos`,
  photo: (at: number, of: number) => (of === 1 ? 'One photo' : `Photo ${at} of ${of}`),
  keys: 'Keys: N nothing there, 1 to 5 one head more of a species, 0 start the photo again, R as in the photo before, A that is all.',
  what: 'How many of each?',
  back: 'Photo before',
  allPhotos: 'All photos of this look',
  alt: 'The photo, without boxes',
  enlarge: 'Enlarge the photo',
  gone: 'This photo is not kept any more',
  same: 'You and the camera count say the same.',
  differs: 'You and the camera count differ. Your word stands.',
  machine: (tally: Tally) => `The camera count had: ${tallyWords(tally)}`,
  you: (tally: Tally) => `You said: ${tallyWords(tally)}`,
  next: 'Next look',
  done: 'Done: all looks are looked at',
  takeBack: 'Take my word back',
  takenBack: 'Taken back. The look will be asked for again.',
  none: {
    what: 'No blind look waits.',
    remedy:
      'Each Monday afternoon some photos of the week before are drawn by lot and wait here: some that nobody would have looked at, and some that were flagged.',
    action: 'How right the count is',
  },
  weeks: 'Weeks drawn',
  noWeeks: (from: string) =>
    `Nothing has been drawn yet. The first draw comes after noon on ${dayName(from)} at the latest.`,
  setting: {
    label: 'Looks drawn a week',
    hint: 'So many of what was not flagged, and as many at most of what was. 20 is usual; 0 draws none. It holds from the next draw on.',
    save: 'Save',
  },
  howRight: 'How right the count is',
} as const

/** `Week of Mon 16 Nov: 12 of 40 looked at` */
export function auditWords({ from, looks, lookedAt, couldNotBeDrawn }: AuditAnswer): string {
  const gone =
    couldNotBeDrawn === 0
      ? ''
      : `; ${plural(couldNotBeDrawn, 'look')} could not be drawn: photos had been let go`
  return `Week of ${dayName(from)}: ${lookedAt} of ${looks} looked at${gone}`
}
