/** How far apart waters may lie for animals of a species to use both, until the owner says otherwise. */
import type { Species } from '../words.ts'

/** A number of the trade with where it was found; all of these are remembered, so the owner looks them over. */
export interface DailyRange {
  /** Between two waters that the same animals drink at from day to day, in dry country. */
  readonly km: number
  readonly source: string
  readonly fromMemory: boolean
}

const remembered = (km: number): DailyRange => ({
  km,
  source: 'from memory, check locally',
  fromMemory: true,
})

export const DEFAULT_DAILY_RANGES: Readonly<Record<Species, DailyRange>> = {
  cattle: remembered(8),
  camel: remembered(25),
  horse: remembered(15),
  donkey: remembered(10),
  goat: remembered(4),
}
