/** Which box of a checked photo is which animal, where a person's count leaves no doubt of it. */
import { type Box, type DrawnBox, type Others, SPECIES, type Species, type Tally } from '../words.ts'
import type { Kind } from './kinds.ts'

/** A box as the station judges it. */
export interface LabelledBox {
  readonly id: number
  readonly species: Species
  /** Pooled, 0 to 1. */
  readonly score: number
  readonly box: Box
  /** The kind of the station's own that its namer says, if any. */
  readonly ownKind: string | null
}

/** What stands of a photo by a person's word. */
export interface StandingCount {
  readonly counts: Tally
  readonly others: Others | null
  /** Boxes a person drew: animals the models missed, which are in `counts`. */
  readonly drawn: readonly DrawnBox[]
}

/** `count`: counted at or over it; `flag`: worth a look. */
export type Marks = Readonly<Record<Species, { readonly count: number; readonly flag: number }>>

export interface Label {
  readonly boxId: number
  readonly kind: Kind
}

/**
 * A person says how many, not which box. What is there less what was drawn by hand is set beside the boxes that are
 * counted:
 * A box that is not counted and that the station's namer gave an own kind stands for that kind where own kinds are said.
 * - nothing of the five and no own kind is there: every box worth a look is "other";
 * - the same of each species: each box is what it was counted as;
 * - all that is there is one kind, as many as boxes counted (or, failing that, as boxes worth a look): each is of it;
 * - one species is gone and one kind is there in its place, as many, all others being as counted: its boxes are of it.
 *
 * In all other cases a box could be one or the other: null. Two errors that cancel out (one animal found
 * twice and one missed; two species taken for each other in equal number) can't be told from none: the price of asking
 * for counts alone.
 */
export function truthOf(
  word: StandingCount,
  boxes: readonly LabelledBox[],
  marks: Marks,
): readonly Label[] | null {
  const there = animalsThere(word)
  const looked = boxes.filter(({ species, score }) => score >= marks[species].flag)
  if (there === null) return null
  // What was named an own kind may be that, and is in no count that a person agrees to.
  if (there.size === 0)
    return of(
      looked.filter(({ ownKind }) => ownKind === null),
      'other',
    )
  const saysOwn = Object.keys(word.others ?? {}).length > 0
  const counted = boxes.flatMap(({ id, species, score, ownKind }) => {
    if (score >= marks[species].count) return [{ id, kind: species as Kind }]
    return saysOwn && ownKind !== null ? [{ id, kind: ownKind }] : []
  })
  const [kind, head] = [...there][0]!
  if (there.size === 1) {
    if (head === counted.length) return of(counted, kind)
    return head === looked.length ? of(looked, kind) : null
  }
  const machine = new Map<Kind, number>()
  for (const one of counted) machine.set(one.kind, (machine.get(one.kind) ?? 0) + 1)
  const came = [...there].filter(([one, number]) => machine.get(one) !== number)
  const went = [...machine].filter(([one, number]) => there.get(one) !== number)
  if (came.length === 0 && went.length === 0) return counted.map((one) => ({ boxId: one.id, kind: one.kind }))
  const [now, before] = [came[0], went[0]]
  if (came.length !== 1 || went.length !== 1 || now === undefined || before === undefined) return null
  if (now[1] !== before[1] || machine.has(now[0]) || there.has(before[0])) return null
  return counted.map((one) => ({ boxId: one.id, kind: one.kind === before[0] ? now[0] : one.kind }))
}

/** The labels of a still whose boxes can be told, none of any other. */
export function labelsOf(word: StandingCount, boxes: readonly LabelledBox[], marks: Marks): readonly Label[] {
  return truthOf(word, boxes, marks) ?? []
}

/** Head of each kind that a box is to be found for; null where more was drawn than is there. */
function animalsThere({ counts, others, drawn }: StandingCount): Map<Kind, number> | null {
  const there = new Map<Kind, number>()
  for (const species of SPECIES) {
    const head = (counts[species] ?? 0) - drawn.filter((one) => one.species === species).length
    if (head < 0) return null
    if (head > 0) there.set(species, head)
  }
  for (const [kind, head] of Object.entries(others ?? {})) if (head > 0) there.set(kind, head)
  return there
}

const of = (boxes: ReadonlyArray<{ readonly id: number }>, kind: Kind): Label[] =>
  boxes.map(({ id }) => ({ boxId: id, kind }))
