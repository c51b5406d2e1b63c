/** What several weeks of blind looks say together: how often a flag is right, and what is missed. */
import type { Species } from '../words.ts'
import type { Stratum } from './audit-draw.ts'
import { type AuditedHit, type AuditShare, auditShare, recallOf } from './audit-share.ts'
import { wordsLacking } from './audit-words.ts'
import { type ShareInterval, USUAL_LEVEL } from './binomial-interval.ts'
import type { Light } from './light.ts'
import { isMissed, type LookCounts, type LookSide } from './looks.ts'

interface Place {
  readonly side: LookSide
  readonly cameraId: number
  readonly pointId: number
  readonly light: Light
}

/** Looks there were to draw from, of one stratum, species, camera and light. */
export interface LooksThere extends Place {
  readonly stratum: string
  /** Flagged: what the machine took it for. */
  readonly species: Species | 'none'
  readonly looks: number
}

export interface AuditedLook extends Place {
  readonly stratum: string
  readonly species: Species | null
  readonly machine: LookCounts
  /** Null while nobody has looked. */
  readonly truth: LookCounts | null
}

/** Looks that people had had of their own accord before the draw. */
export interface KnownLooks extends Omit<Place, 'pointId'> {
  readonly species: Species | 'any'
  readonly looks: number
  readonly hits: number
}

/** What the machine counted in a week at a point, and what words before the draw changed of it. */
export interface CountsThere {
  readonly pointId: number
  readonly species: Species
  readonly visits: number
  readonly head: number
  readonly knownVisits: number
  readonly knownHead: number
}

export interface AuditWeek {
  readonly id: number
  readonly there: readonly LooksThere[]
  readonly looks: readonly AuditedLook[]
  readonly known: readonly KnownLooks[]
  readonly counts: readonly CountsThere[]
}

export interface Part {
  readonly cameraId?: number
  readonly light?: Light
}

/** Looked at before the draw: a stratum of its own, all of which was looked at, so it stands for nothing else. */
const KNOWN = 'looked at before the draw'

/** How often what is flagged as one of `of` truly is that. */
export const rightShare = (
  weeks: readonly AuditWeek[],
  of: readonly Species[],
  part: Part = {},
  level?: number,
): ToldShare => share(weeks, rightOf(of, part), level)

/** How often a look that was not flagged holds one of `of` that was not counted; `known`: as those rows are named. */
export const missedShare = (
  weeks: readonly AuditWeek[],
  { of, known }: { readonly of: readonly Species[]; readonly known: Species | 'any' },
  part: Part = {},
  level?: number,
): ToldShare => share(weeks, missedOf(of, known, part), level)

const rightOf = (of: readonly Species[], part: Part): Question => ({
  side: 'flagged',
  isIn: (one) => isPart(one, part) && of.some((species) => species === one.species),
  isHit: ({ species }, truth) => species !== null && truth[species] !== undefined,
  isKnown: (known) => isPart(known, part) && of.some((species) => species === known.species),
})

const missedOf = (of: readonly Species[], known: Species | 'any', part: Part): Question => ({
  side: 'not flagged',
  isIn: (one) => isPart(one, part),
  isHit: ({ machine }, truth) => of.some((species) => isMissed(species, truth, machine)),
  isKnown: (one) => isPart(one, part) && one.species === known,
})

const isPart = (one: { readonly cameraId: number; readonly light: Light }, { cameraId, light }: Part) =>
  (cameraId === undefined || one.cameraId === cameraId) && (light === undefined || one.light === light)

interface Question {
  readonly side: LookSide
  readonly isIn: (one: LooksThere | AuditedLook) => boolean
  readonly isHit: (look: AuditedLook, truth: LookCounts) => boolean
  readonly isKnown: (known: KnownLooks) => boolean
}

export type ToldShare = AuditShare & {
  /** Drawn and looked at; and looked at before the draw. */
  readonly drawn: number
  readonly before: number
  /** Of both, without any weight: what was seen so far. */
  readonly hits: number
}

/** Weeks of which each stratum has its two words are told together; the others wait until they have. */
function share(weeks: readonly AuditWeek[], question: Question, level?: number): ToldShare {
  const told = weeks.map((week) => answerOf(week, question))
  const whole = told.filter(({ lacking }) => lacking === 0)
  const strata = whole.flatMap((week) => week.strata)
  const audited = whole.flatMap((week) => week.audited)
  const drawn = whole.reduce((sum, week) => sum + week.drawn, 0)
  const before = audited.length - drawn
  const hits = audited.filter(({ hit }) => hit).length
  const lacking = told.flatMap((week) => (week.lacking > 0 ? [week.lacking] : []))
  if (audited.length === 0 && lacking.length > 0)
    return { kind: 'not enough checked to say', more: Math.min(...lacking), drawn, before, hits: 0 }
  return { ...auditShare({ strata, audited }, level), drawn, before, hits }
}

/** What one week has to say to a question, and how many words it lacks to say it. */
function answerOf(week: AuditWeek, { side, isIn, isHit, isKnown }: Question) {
  const nameOf = (stratum: string) => `${week.id}, ${stratum}`
  const sizes = new Map<string, number>()
  for (const one of week.there.filter((there) => there.side === side && isIn(there)))
    sizes.set(nameOf(one.stratum), (sizes.get(nameOf(one.stratum)) ?? 0) + one.looks)
  const strata: Stratum[] = [...sizes].map(([name, bursts]) => ({ name, bursts }))
  const drawn = week.looks
    .filter((look) => look.side === side && isIn(look))
    .flatMap((look): AuditedHit[] =>
      look.truth === null ? [] : [{ stratum: nameOf(look.stratum), hit: isHit(look, look.truth) }],
    )
  const before = week.known
    .filter((known) => known.side === side && isKnown(known))
    .flatMap(({ looks, hits }) =>
      Array.from({ length: looks }, (_, i) => ({ stratum: nameOf(KNOWN), hit: i < hits })),
    )
  if (before.length > 0) strata.push({ name: nameOf(KNOWN), bursts: before.length })
  return {
    lacking: wordsLacking({ strata, audited: [...drawn, ...before] }),
    strata,
    audited: [...drawn, ...before],
    drawn: drawn.length,
    looks: strata.reduce((sum, { bursts }) => sum + bursts, 0),
  }
}

/**
 * How many of the looks that hold a feral species were flagged as it. Null where either share is not told, or where there
 * was nothing to find.
 */
export function foundShare(weeks: readonly AuditWeek[], species: Species): ShareInterval | null {
  // Both limits at their worst: half the chance for each (services/tally/audit-share.ts, recallOf).
  const level = 1 - (1 - USUAL_LEVEL) / 2
  const questions = [rightOf([species], {}), missedOf([species], species, {})] as const
  // Of the same weeks on both sides.
  const told = weeks.filter((week) => questions.every((question) => answerOf(week, question).lacking === 0))
  const [right, missed] = questions.map((question) => share(told, question, level))
  if (right?.kind !== 'said' || missed?.kind !== 'said') return null
  const [flagged, unflagged] = questions.map((question) =>
    told.reduce((sum, week) => sum + answerOf(week, question).looks, 0),
  )
  return recallOf({ flagged: flagged!, right, unflagged: unflagged!, missed })
}
