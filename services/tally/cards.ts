/** Cards of Photos to check: stills of one point that belong together. */
import { type Instant, SPECIES, type Species, type Tally } from '../words.ts'

const MINUTE_MS = 60_000

/** A still, as far as it tells which cards there are. */
export interface OutlineStill {
  readonly id: number
  readonly at: Instant
  /** Worth a look; the night's other stills are plain. */
  readonly flagged: boolean
  /** True when a feral species was flagged on it; a still flagged otherwise is there because it is unsure. */
  readonly feral: boolean
}

/** A still, as a card sees it. */
export interface CardStill extends OutlineStill {
  readonly tally: Tally
  /** The best score of a feral box on it, or of any box where none is feral; 0 to 1. */
  readonly score: number
  /** How sharp its best animal is (worker/eye/sharpness.ts); null where that was not measured. */
  readonly sharpness: number | null
}

export type Why = 'feral' | 'unsure' | 'plain'

/** Which stills a card holds, and what its place among the others goes by. */
export interface CardOutline<S extends OutlineStill> {
  /** The id of the first still: the same for the same stills. */
  readonly key: number
  readonly why: Why
  readonly startedAt: Instant
  /** In order of time. */
  readonly stills: readonly S[]
}

export interface Card<S extends CardStill> extends CardOutline<S> {
  /** The still to show first. */
  readonly bestStillId: number
  readonly endedAt: Instant
  /** The largest head in any one still, of each species on the card. */
  readonly peaks: Tally
}

/**
 * The cards in stills of ONE point, in order of time: stills no further apart than the gap share a card, whatever is on
 * them. A card is `feral` when any of its stills is, else `unsure` when any is flagged.
 */
export function outlinesOf<S extends OutlineStill>(
  stills: readonly S[],
  gapMinutes: number,
): CardOutline<S>[] {
  const gapMs = gapMinutes * MINUTE_MS
  const cards: Array<CardOutline<S> & { why: Why; stills: S[] }> = []
  let lastAt = Number.NEGATIVE_INFINITY
  for (const still of [...stills].sort((a, b) => a.at - b.at || a.id - b.id)) {
    const card = cards.at(-1)
    const why = still.feral ? 'feral' : still.flagged ? 'unsure' : 'plain'
    if (card === undefined || still.at - lastAt > gapMs) {
      cards.push({ key: still.id, why, startedAt: still.at, stills: [still] })
    } else {
      card.stills.push(still)
      if (RANK[why] < RANK[card.why]) card.why = why
    }
    lastAt = still.at
  }
  return cards
}

/**
 * Those cards with what is on them. Best still: on a feral card only its feral stills, most feral head; on another most
 * head; of those the best score and least blur; then the lowest id.
 */
export function cardsOf<S extends CardStill>(
  stills: readonly S[],
  gapMinutes: number,
  feral: ReadonlySet<Species>,
): Card<S>[] {
  return outlinesOf(stills, gapMinutes).map((outline) => filledCard(outline, feral))
}

const RANK: Readonly<Record<Why, number>> = { feral: 0, unsure: 1, plain: 2 }

/** Cards of any points in the order they are worked through: feral first, then unsure, then plain, each latest first. */
export function cardsInOrder<C extends Pick<CardOutline<OutlineStill>, 'why' | 'startedAt' | 'key'>>(
  cards: readonly C[],
): C[] {
  return [...cards].sort((a, b) => RANK[a.why] - RANK[b.why] || b.startedAt - a.startedAt || b.key - a.key)
}

function filledCard<S extends CardStill>(outline: CardOutline<S>, feral: ReadonlySet<Species>): Card<S> {
  const { why, stills } = outline
  const candidates = why === 'feral' ? stills.filter((still) => still.feral) : stills
  const counted = SPECIES.filter((species) => why !== 'feral' || feral.has(species))
  const headOf = ({ tally }: S) => counted.reduce((sum, species) => sum + (tally[species] ?? 0), 0)
  const most = Math.max(...candidates.map(headOf))
  const [best] = bestFirst(candidates.filter((still) => headOf(still) === most))
  return {
    ...outline,
    bestStillId: best!.id,
    endedAt: stills.at(-1)!.at,
    peaks: peaksOf(stills.map(({ tally }) => tally)),
  }
}

/**
 * Best score and least blur first. Sharpness has no scale of its own (night and day, near and far differ), so a still is
 * judged by its share of the sharpest of them; by score alone where any was not measured.
 */
function bestFirst<S extends CardStill>(stills: readonly S[]): S[] {
  const measured = stills.flatMap(({ sharpness }) => (sharpness === null ? [] : [sharpness]))
  const sharpest = measured.length === stills.length ? Math.max(...measured) : 0
  const worth = ({ score, sharpness }: S) => (sharpest > 0 ? score * ((sharpness ?? 0) / sharpest) : score)
  return [...stills].sort((a, b) => worth(b) - worth(a) || a.id - b.id)
}

function peaksOf(tallies: readonly Tally[]): Tally {
  const peaks: Partial<Record<Species, number>> = {}
  for (const species of SPECIES) {
    const peak = Math.max(0, ...tallies.map((tally) => tally[species] ?? 0))
    if (peak > 0) peaks[species] = peak
  }
  return peaks
}
