/** Which animal is taken for which: the confusion table. */

export interface NamedAnimal<N extends string> {
  readonly truth: N
  readonly named: N
}

/** Rows are what they truly were, columns what they were named, both in the order of `names`. */
export interface ConfusionTable<N extends string> {
  readonly names: readonly N[]
  readonly counts: readonly (readonly number[])[]
  readonly animals: number
  readonly wrong: number
}

/** @throws RangeError for an animal with a name that is not among `names` */
export function confusionTable<N extends string>(
  animals: readonly NamedAnimal<N>[],
  names: readonly N[],
): ConfusionTable<N> {
  const counts = names.map(() => names.map(() => 0))
  let wrong = 0
  for (const { truth, named } of animals) {
    const row = counts[names.indexOf(truth)]
    const column = names.indexOf(named)
    if (row === undefined || column < 0)
      throw new RangeError(`${truth} or ${named} is not among ${names.join(', ')}`)
    row[column]!++
    if (truth !== named) wrong++
  }
  return { names, counts, animals: animals.length, wrong }
}
