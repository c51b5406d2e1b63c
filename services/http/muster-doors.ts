/** The shapes of what comes in about a muster and a time without rain. */
import { z } from 'zod'

const MAX_INTEGER = 2_147_483_647
const FIRST_YEAR = 1971
const LAST_YEAR = 9997
const MOST_POINTS = 2_000
const MOST_HEAD = 1_000_000
const MOST_KG = 1e9
const MOST_DAYS = 3_660
const MOST_HOURS = 24 * 14
const MOST_KM = 10_000
const hasNoNul = (value: string) => !value.includes('\0')
const noNul = { error: 'holds a NUL character' }
const rowId = z.int().positive().max(MAX_INTEGER)
const version = z.coerce.number().int().positive().max(MAX_INTEGER)

const whole = (least: number, most: number) => {
  const words = { error: `not a whole number from ${least} to ${most}` }
  return z.int(words).min(least, words).max(most, words)
}
const number = (least: number, most: number) => {
  const words = { error: `not a number from ${least} to ${most}` }
  return z.number(words).min(least, words).max(most, words)
}
const range = (least: number, most: number) =>
  z
    .strictObject({ low: number(least, most), high: number(least, most) })
    .refine(({ low, high }) => low <= high, { error: 'the low end is above the high end', path: ['high'] })

const pointFigures = z.strictObject({
  pointId: rowId,
  leftOut: z.boolean().default(false),
  head: range(0, MOST_HEAD).nullable().default(null),
  fixedYard: z.boolean().nullable().default(null),
  km: number(0, MOST_KM).nullable().default(null),
  musterHours: number(0, MOST_HOURS).nullable().default(null),
  waterDays: number(0, MOST_DAYS).nullable().default(null),
  feedKg: range(0, MOST_KG).nullable().default(null),
  note: z.string().trim().min(1).max(500).refine(hasNoNul, noNul).nullable().default(null),
})

export const musterFigures = z.strictObject({
  nights: whole(7, 366),
  means: z.strictObject({
    portableYards: whole(0, 50),
    headADeck: whole(1, 500),
    decksATruck: whole(1, 20),
    trucks: whole(1, 100),
    loadsADay: whole(1, 20),
    daysToSet: whole(0, 60),
    daysToMuster: whole(1, 60),
  }),
  musteredShare: number(0.01, 1),
  haul: z.strictObject({
    musterHours: number(0, MOST_HOURS),
    nightHours: number(0, 24),
    loadHours: number(0, MOST_HOURS),
    unloadHours: number(0, MOST_HOURS),
    km: number(0, MOST_KM),
    kmAnHour: number(1, 200),
  }),
  mostHoursOffWater: number(1, MOST_HOURS).nullable(),
  endBy: z.iso
    .date()
    .refine((value) => value >= `${FIRST_YEAR}` && value < `${LAST_YEAR}`, {
      error: `not a day of the years ${FIRST_YEAR} to ${LAST_YEAR - 1}`,
    })
    .nullable(),
  order: z
    .array(rowId)
    .max(MOST_POINTS)
    .refine((ids) => new Set(ids).size === ids.length, { error: 'an order names each point once' }),
  points: z
    .array(pointFigures)
    .max(MOST_POINTS)
    .refine((points) => new Set(points.map(({ pointId }) => pointId)).size === points.length, {
      error: 'a point is given once',
    }),
  rain: z.strictObject({
    days: whole(1, MOST_DAYS),
    kgASheepDay: range(0.01, 100),
  }),
})

/** GET /api/muster */
export const musterQuery = z.strictObject({ version: version.optional() })

/** PUT /api/muster: all figures at once. */
export const musterDoor = z.strictObject({
  /** The version they were made on; 0 before any was kept. */
  madeOn: z.int().nonnegative().max(MAX_INTEGER),
  figures: musterFigures,
  note: z.string().trim().min(1).max(500).refine(hasNoNul, noNul).optional(),
  /** Who says it; people and keys come later. */
  who: z.string().trim().min(1).max(80).refine(hasNoNul, noNul).default('station'),
})
