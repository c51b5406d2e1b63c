/** Which photos may go, and when: the owner's rule on one photo. */
import type { Instant } from '../words.ts'

/** What is kept of a photo: as it came, only its small picture, or only what is written down of it. */
export const KEPT = ['whole', 'small', 'none'] as const
export type Kept = (typeof KEPT)[number]

export const EMPTIES_RULES = ['keep', 'shrink', 'drop'] as const
export type EmptiesRule = (typeof EMPTIES_RULES)[number]

export interface KeepingRule {
  readonly empties: EmptiesRule
  /** Whole days since a photo came in. */
  readonly afterDays: number
}

export interface KeptPhoto {
  readonly state: 'received' | 'done' | 'unreadable'
  readonly flagged: boolean
  readonly unsure: boolean
  readonly checked: boolean
  /** Whether somebody has marked something on it. */
  readonly marked: boolean
  /** Whether it was drawn for a blind look: what the count is judged by must be there to be looked at. */
  readonly drawn: boolean
  /** Whether any animal is counted on it. */
  readonly animals: boolean
  readonly receivedAt: Instant
  readonly kept: Kept
}

const MS_PER_DAY = 86_400_000

/**
 * Before this instant a photo must have come in to go. Days count from arrival, not from capture: a card from last
 * winter must not go the night after it was put in.
 */
export function goneBefore(rule: KeepingRule, now: Instant): Instant {
  return (now - rule.afterDays * MS_PER_DAY) as Instant
}

/** What the rule leaves of photos that may go; null where they all stay. */
export function leftBy(rule: KeepingRule): Exclude<Kept, 'whole'> | null {
  if (rule.empties === 'keep') return null
  return rule.empties === 'shrink' ? 'small' : 'none'
}

/**
 * What is to be left of a photo. Whatever a number or a person's word rests on stays as it is, and what the eye has not
 * read yet; what is unreadable can't be made smaller, so it stays whole until it is dropped.
 */
export function leftOf(photo: KeptPhoto, rule: KeepingRule, now: Instant): Kept {
  const left = leftBy(rule)
  if (left === null || photo.receivedAt >= goneBefore(rule, now)) return photo.kept
  const { flagged, unsure, checked, marked, drawn, animals } = photo
  const empty = !(flagged || unsure || checked || marked || drawn || animals)
  const mayGo = photo.state === 'done' ? empty : photo.state === 'unreadable' && left === 'none'
  if (!mayGo) return photo.kept
  return KEPT.indexOf(left) > KEPT.indexOf(photo.kept) ? left : photo.kept
}
