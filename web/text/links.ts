/** Words of links to a target list, and of what they show once they have ended. */
import type { ShareLink } from '../../services/http/program-shapes.ts'
import { plural } from './counts.ts'
import { dayAndClock } from './times.ts'

export const linkWords = {
  title: 'Links to this list',
  lead: 'Whoever has the link sees the list and the safety words, without an account and nothing else, until it ends.',
  forWhom: 'For whom',
  days: 'Ends after',
  daysChoices: [1, 3, 7, 14, 28, 56] as const,
  daysWords: (days: number) => (days < 7 ? plural(days, 'day') : plural(days / 7, 'week')),
  make: 'Make a link',
  made: 'Copy it now: it is shown this once.',
  copy: 'Copy',
  copied: 'Copied.',
  send: 'Send',
  none: 'No link has been made.',
  until: (time: string) => `open until ${dayAndClock(time)}`,
  endedBySelf: (time: string) => `ended ${dayAndClock(time)}`,
  endedByHand: (time: string) => `ended by hand ${dayAndClock(time)}`,
  anyone: 'For nobody in particular',
  end: 'End it now',
  endWarns: 'Whoever has it can no longer open the list. It can’t be opened again; you can make a new link.',
  endYes: 'Yes, end it',
  onlyHere:
    'This service answers on this machine only, so the link opens on this machine only. To share it, open the service to your network first; the README says how, and what that risks.',
} as const

/** How a link stands. */
export function linkStands({ endsAt, ended }: ShareLink): string {
  if (ended === null) return linkWords.until(endsAt)
  return (ended.byHand ? linkWords.endedByHand : linkWords.endedBySelf)(ended.at)
}

export const sharedWords = {
  title: 'Target list',
  none: 'There is no list at this address.',
  ended: (time: string, byHand: boolean) => `This link ended ${byHand ? 'by hand ' : ''}on ${time}.`,
  remedy: 'Ask whoever sent it to you for a new one.',
} as const
