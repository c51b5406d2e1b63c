/** Numbers by chance that come out the same for the same seed: the demo's past must be one and the same each time. */

export interface Random {
  /** Uniform, from 0 up to but not 1. */
  next(): number
  /** A whole number from `from` to `to`, both included. */
  whole(from: number, to: number): number
  /** One of the items. @throws RangeError when there are none */
  pick<T>(items: readonly T[]): T
  /** `count` different items, in no order; all of them when there are fewer. */
  sample<T>(items: readonly T[], count: number): T[]
  /** 2.3 becomes 2, or in three of ten cases 3: the mean is kept. */
  round(value: number): number
}

/** A stream of its own for each `name` under one seed, so that a change to one custom leaves the others as they were. */
export function randomFor(seed: number, name: string): Random {
  const next = mulberry32(fnv1a(`${seed}/${name}`))
  const whole = (from: number, to: number) => from + Math.floor(next() * (to - from + 1))
  const sample = <T>(items: readonly T[], count: number): T[] => {
    const left = [...items]
    const taken: T[] = []
    while (taken.length < count && left.length > 0) taken.push(...left.splice(whole(0, left.length - 1), 1))
    return taken
  }
  return {
    next,
    whole,
    sample,
    pick<T>(items: readonly T[]): T {
      if (items.length === 0) throw new RangeError('there is nothing to pick from')
      return items[whole(0, items.length - 1)] as T
    },
    round: (value) => Math.floor(value) + (next() < value % 1 ? 1 : 0),
  }
}

/** Mulberry32 (T. Ettinger 2017, public domain), from memory: 32 bits of state, enough for a demo and nothing more. */
function mulberry32(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32
  }
}

/** FNV-1a, 32 bits (Fowler, Noll and Vo), from memory. */
function fnv1a(text: string): number {
  let hash = 0x811c9dc5
  for (const byte of Buffer.from(text)) hash = Math.imul(hash ^ byte, 0x01000193)
  return hash >>> 0
}
