/** Who comes to which water, when in the day and how often: the invented habits of the demo station's animals. */
import type { Species } from '../words.ts'
import type { Hours } from './hours.ts'

export interface Habit {
  readonly pointKey: string
  readonly species: Species
  readonly hours: Hours
  /** Visits a week, this week first; the last number stands for every week before it. */
  readonly weekly: readonly number[]
  /** Stills that show cattle beside them fit as well. */
  readonly amongCattle?: boolean
  /** They have not come for this many days. */
  readonly goneForDays?: number
}

/** Most days. */
const CATTLE = [6]
const CATTLE_THINNING = [1.5, 2, 2.5, 3, 3.5, 4.5, 5, 6]
const RISING = [4.5, 4, 3.5, 3, 2.5, 2, 1.5, 1]
/**
 * Five weeks ago the camel program at Stony Turkey Nest took most of its camels; others shifted to Kite Bore. Both so much
 * that the exact tests of eight weeks can tell (tests/unit/demo/program.test.ts).
 */
const RISING_SINCE_THE_PROGRAM = [6, 5.5, 5.5, 5, 5, 0.5, 0.5, 0]
const FALLEN_SINCE_THE_PROGRAM = [2, 1.5, 1.5, 1, 1, 6, 6.5, 6.5]
const STEADY = [2.5]

const CATTLE_POINTS = [
  'old-garden-trough',
  'kite-bore',
  'pigeon-soak',
  'stony-turkey-nest',
  'galah-well',
  'ironbark-dam',
  'snakewood-bore',
  'lantern-bore',
]

export const HABITS: readonly Habit[] = [
  ...CATTLE_POINTS.map(
    (pointKey): Habit => ({ pointKey, species: 'cattle', hours: 'mid-morning or evening', weekly: CATTLE }),
  ),
  {
    pointKey: 'twelve-mile-tank',
    species: 'cattle',
    hours: 'mid-morning or evening',
    weekly: CATTLE_THINNING,
  },
  {
    pointKey: 'windlass-well',
    species: 'cattle',
    hours: 'mid-morning or evening',
    weekly: CATTLE,
    goneForDays: 4,
  },
  { pointKey: 'kite-bore', species: 'camel', hours: 'after dark', weekly: RISING_SINCE_THE_PROGRAM },
  { pointKey: 'stony-turkey-nest', species: 'camel', hours: 'after dark', weekly: FALLEN_SINCE_THE_PROGRAM },
  { pointKey: 'galah-well', species: 'camel', hours: 'after dark', weekly: RISING },
  { pointKey: 'lantern-bore', species: 'camel', hours: 'after dark', weekly: RISING },
  { pointKey: 'galah-well', species: 'donkey', hours: 'midnight to dawn', weekly: [3] },
  { pointKey: 'snakewood-bore', species: 'donkey', hours: 'midnight to dawn', weekly: [3] },
  { pointKey: 'pigeon-soak', species: 'horse', hours: 'around dusk', weekly: STEADY },
  { pointKey: 'windlass-well', species: 'horse', hours: 'around dusk', weekly: STEADY },
  { pointKey: 'twelve-mile-tank', species: 'horse', hours: 'around dusk', weekly: STEADY },
  { pointKey: 'ironbark-dam', species: 'goat', hours: 'by day', weekly: STEADY, amongCattle: true },
  { pointKey: 'old-garden-trough', species: 'goat', hours: 'by day', weekly: STEADY, amongCattle: true },
  { pointKey: 'lantern-bore', species: 'goat', hours: 'by day', weekly: STEADY },
]

/** Stills a point and week that the wind took, and stills of dogs, sheep and pigs. */
export const WIND_WEEKLY = 0.8
export const OTHERS_WEEKLY = 0.4

/** Pigeon Soak's camera was down: this night and the one after it, counted back from the night of now. */
export const CAMERA_DOWN = { pointKey: 'pigeon-soak', firstNightBack: 4, lastNightBack: 3 } as const

export type Breakage = 'truncated' | 'not an image' | 'empty'

/** Files that came in unreadable. An empty file is like every other, so a camera has one at most. */
export const BREAKAGES: readonly {
  readonly pointKey: string
  readonly daysAgo: number
  readonly how: Breakage
}[] = [
  { pointKey: 'lantern-bore', daysAgo: 1, how: 'truncated' },
  { pointKey: 'snakewood-bore', daysAgo: 2, how: 'not an image' },
  { pointKey: 'galah-well', daysAgo: 9, how: 'empty' },
  { pointKey: 'lantern-bore', daysAgo: 17, how: 'truncated' },
  { pointKey: 'twelve-mile-tank', daysAgo: 30, how: 'truncated' },
  { pointKey: 'snakewood-bore', daysAgo: 41, how: 'not an image' },
]
