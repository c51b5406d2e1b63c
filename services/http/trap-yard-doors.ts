/** The shapes of what comes in about trap yards. */
import { z } from 'zod'
import { SPECIES } from '../words.ts'

const MAX_INTEGER = 2_147_483_647
const FIRST_YEAR = 1971
const LAST_YEAR = 9997
const MOST_YARDS = 200
const MOST_NIGHTS = 60
const MOST_WEEKS = 52
const MOST_KM = 500
const MOST_POINTS = 200
const hasNoNul = (value: string) => !value.includes('\0')
const noNul = { error: 'holds a NUL character' }
const rowId = z.int().positive().max(MAX_INTEGER)
const species = z.enum(SPECIES)
const text = (most: number) => z.string().trim().min(1).max(most).refine(hasNoNul, noNul)
/** Who says it; people and keys come later. */
const who = text(80).default('station')
const day = z.iso.date().refine((value) => value >= `${FIRST_YEAR}` && value < `${LAST_YEAR}`, {
  error: `not a day of the years ${FIRST_YEAR} to ${LAST_YEAR - 1}`,
})

const whole = (least: number, most: number) => {
  const words = { error: `not a whole number from ${least} to ${most}` }
  return z.int(words).min(least, words).max(most, words)
}
const eachOnce = (ids: readonly number[]) => new Set(ids).size === ids.length
const ids = z
  .array(rowId)
  .min(1)
  .max(MOST_POINTS)
  .refine(eachOnce, { error: 'a point is given once' })
  .transform((given) => [...given].sort((a, b) => a - b))
/** Ids in a query, with commas between: `3,5`. */
const idList = z
  .string()
  .max(4_000)
  .transform((list) => list.split(',').map(Number))
  .pipe(ids)

const HALF_HOUR = { error: 'not an hour of the day by half hours, 0 to 23.5' }
const halfHour = z.number(HALF_HOUR).min(0, HALF_HOUR).max(23.5, HALF_HOUR).multipleOf(0.5, HALF_HOUR)
const SHARE = { error: 'not a part from 0 to 1' }
const share = z.number(SHARE).min(0, SHARE).max(1, SHARE)
const LONG = { error: 'not hours from 0.5 to 24' }
const mostHours = z.number(LONG).min(0.5, LONG).max(24, LONG)

/** GET /api/trap-yards: unless a species is named, the feral one with the most animal-visits. */
export const trapYardsQuery = z.strictObject({ species: species.optional() })

/** GET /api/trap-yards/try: gates at these points, whatever was proposed. */
export const yardTryQuery = z.strictObject({ species, points: idList })

/** GET /api/trap-yards/hours: hours by the bound on cattle, or those a person chose. */
export const gateHoursQuery = z
  .strictObject({
    species,
    points: idList,
    cattleShare: z.coerce.number(SHARE).pipe(share).default(0.1),
    mostHours: z.coerce.number(LONG).pipe(mostHours).default(12),
    from: z.coerce.number(HALF_HOUR).pipe(halfHour).optional(),
    to: z.coerce.number(HALF_HOUR).pipe(halfHour).optional(),
    first: day.optional(),
    nights: z.coerce.number().pipe(whole(1, MOST_NIGHTS)).optional(),
  })
  .refine(({ from, to }) => (from === undefined) === (to === undefined), {
    error: 'the hours have a beginning and an end, or neither',
    path: ['to'],
  })

/** PUT /api/trap-yards/means: what is left out stays. */
export const yardMeansDoor = z.strictObject({
  portableYards: whole(0, MOST_YARDS).optional(),
  nightsSet: whole(1, MOST_NIGHTS).optional(),
  openWeeks: whole(0, MOST_WEEKS).optional(),
  checkingWeeks: whole(0, MOST_WEEKS).optional(),
  who,
})

const KM = { error: `not kilometres over 0 and up to ${MOST_KM}` }
/** PUT /api/trap-yards/ranges: null takes the owner's range back. */
export const dailyRangeDoor = z.strictObject({
  species,
  range: z.strictObject({ km: z.number(KM).positive(KM).max(MOST_KM, KM), source: text(200) }).nullable(),
  who,
})

/** POST /api/trap-yards/other-water: where stock and wildlife drink when gates are set at these points; `isSure` false takes it back. */
export const otherWaterDoor = z
  .strictObject({
    pointIds: ids,
    isSure: z.boolean(),
    openPointIds: z
      .array(rowId)
      .max(MOST_POINTS)
      .refine(eachOnce, { error: 'a point is given once' })
      .default([]),
    elsewhere: text(300).nullable().default(null),
    who,
  })
  .refine(({ isSure, openPointIds, elsewhere }) => !isSure || openPointIds.length > 0 || elsewhere !== null, {
    error: 'says no other water: name a point that stays open, or say where it is',
    path: ['openPointIds'],
  })
  .refine(({ pointIds, openPointIds }) => !openPointIds.some((id) => pointIds.includes(id)), {
    error: 'a point is not its own other water',
    path: ['openPointIds'],
  })

/** POST /api/trap-yards/first-used: null takes the date back. */
export const firstUsedDoor = z.strictObject({ pointId: rowId, species, on: day.nullable(), who })

const plan = {
  name: text(80),
  species,
  pointIds: ids,
  fromNight: day,
  nights: whole(1, MOST_NIGHTS),
  hours: z.strictObject({ from: halfHour, to: halfHour }).nullable().default(null),
  cattleShare: share.default(0.1),
  note: text(500).nullable().default(null),
}
/** POST /api/trap-yards/plans */
export const yardPlanDoor = z.strictObject({ ...plan, who })
/** PUT /api/trap-yards/plans/:id: `version` is the one it was made from. */
export const yardPlanChangeDoor = z.strictObject({ ...plan, version: rowId, who })
/** DELETE /api/trap-yards/plans/:id */
export const yardPlanWithdrawDoor = z.strictObject({ version: rowId, who })
