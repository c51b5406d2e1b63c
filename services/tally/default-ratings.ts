/** What an animal drinks and eats, until the owner says otherwise. */
import type { Species } from '../words.ts'
import type { Rating, Ratings } from './load.ts'

const LANDSCAPE_BOARD = 'South Australian landscape board, fact sheet on stocking rates, August 2015'
const BURTON = 'Burton 1965, in FutureBeef, Water requirements'

const found = (low: number, high: number, source: string): Rating => ({
  low,
  high,
  source,
  fromMemory: false,
})
const remembered = (low: number, high: number): Rating => ({
  low,
  high,
  source: 'from memory, check locally',
  fromMemory: true,
})
/** Common practice, no source: one drink a day, so that an animal-visit is an animal's day. */
const ONCE_A_DAY = remembered(1, 1)

export const DEFAULT_RATINGS: Readonly<Record<Species, Ratings>> = {
  // 45 litres on the average, 60 at the peak; a dry cow or steer of 350 to 450 kg.
  cattle: {
    litres: found(45, 60, BURTON),
    sheep: found(8, 10, LANDSCAPE_BOARD),
    visitsADay: ONCE_A_DAY,
  },
  camel: { litres: remembered(20, 40), sheep: remembered(7, 12), visitsADay: ONCE_A_DAY },
  horse: { litres: remembered(30, 50), sheep: found(10, 10, LANDSCAPE_BOARD), visitsADay: ONCE_A_DAY },
  donkey: { litres: remembered(10, 25), sheep: remembered(4, 6), visitsADay: ONCE_A_DAY },
  // A dry goat.
  goat: { litres: remembered(4, 9), sheep: found(1, 1.5, LANDSCAPE_BOARD), visitsADay: ONCE_A_DAY },
}
