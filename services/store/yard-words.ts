/** What people said of trap yards: the yards there are, a species' daily range, other water, a yard's first use. Logs. */
import { sql } from 'kysely'
import { type DailyRange, DEFAULT_DAILY_RANGES } from '../planning/daily-ranges.ts'
import type { OtherWaterWord } from '../planning/other-water.ts'
import { type TrainingWeeks, USUAL_WEEKS } from '../planning/training-calendar.ts'
import { type Instant, type NightDate, SPECIES, type Species } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Ledger } from './open.ts'
import { findPoint } from './points.ts'
import type { LedgerOrTransaction } from './settings.ts'

export interface Said {
  readonly who: string
  readonly now: Instant
}

export interface YardMeansWord {
  readonly portableYards: number
  readonly nightsSet: number
  readonly training: TrainingWeeks
  /** Null: nobody has said it yet. */
  readonly saidAt: Instant | null
}

/** A week of set gates (common practice, no source), and no portable yard until somebody says so. */
const USUAL_NIGHTS_SET = 7

export async function readYardMeans(ledger: LedgerOrTransaction): Promise<YardMeansWord> {
  const row = await ledger
    .selectFrom('yard_means')
    .selectAll()
    .orderBy('id', 'desc')
    .limit(1)
    .executeTakeFirst()
  if (row === undefined)
    return { portableYards: 0, nightsSet: USUAL_NIGHTS_SET, training: USUAL_WEEKS, saidAt: null }
  return {
    portableYards: row.portable_yards,
    nightsSet: row.nights_set,
    training: { open: row.open_weeks, checking: row.checking_weeks },
    saidAt: toInstant(row.at),
  }
}

/** What is left out stays as it was. */
export async function sayYardMeans(
  ledger: Ledger,
  given: {
    readonly portableYards?: number | undefined
    readonly nightsSet?: number | undefined
    readonly openWeeks?: number | undefined
    readonly checkingWeeks?: number | undefined
  },
  { who, now }: Said,
): Promise<void> {
  await ledger.transaction().execute(async (tx) => {
    // Two who say different parts of it at once must not lose one of them.
    await sql`lock table yard_means in share row exclusive mode`.execute(tx)
    const before = await readYardMeans(tx)
    await tx
      .insertInto('yard_means')
      .values({
        at: toDate(now),
        who,
        portable_yards: given.portableYards ?? before.portableYards,
        nights_set: given.nightsSet ?? before.nightsSet,
        open_weeks: given.openWeeks ?? before.training.open,
        checking_weeks: given.checkingWeeks ?? before.training.checking,
      })
      .execute()
  })
}

export interface SaidRange extends DailyRange {
  /** Set by the owner. */
  readonly own: boolean
}
export type DailyRanges = Readonly<Record<Species, SaidRange>>

export async function readDailyRanges(ledger: Ledger): Promise<DailyRanges> {
  const rows = await ledger
    .selectFrom('daily_range_words')
    .distinctOn('species')
    .select(['species', 'km', 'source'])
    .orderBy('species')
    .orderBy('id', 'desc')
    .execute()
  const said = new Map(rows.map((row) => [row.species, row]))
  return Object.fromEntries(
    SPECIES.map((species): [Species, SaidRange] => {
      const { km = null, source = null } = said.get(species) ?? {}
      return km === null
        ? [species, { ...DEFAULT_DAILY_RANGES[species], own: false }]
        : [species, { km, source: source ?? '', fromMemory: false, own: true }]
    }),
  ) as DailyRanges
}

/** Null takes the owner's range back. */
export async function sayDailyRange(
  ledger: Ledger,
  word: {
    readonly species: Species
    readonly range: { readonly km: number; readonly source: string } | null
  },
  { who, now }: Said,
): Promise<void> {
  await ledger
    .insertInto('daily_range_words')
    .values({
      at: toDate(now),
      who,
      species: word.species,
      km: word.range?.km ?? null,
      source: word.range?.source ?? null,
    })
    .execute()
}

/** The latest word of each point that has one. */
export async function readOtherWater(ledger: Ledger): Promise<ReadonlyMap<number, OtherWaterWord>> {
  const rows = await ledger
    .selectFrom('other_water_words')
    .distinctOn('point_id')
    .selectAll()
    .orderBy('point_id')
    .orderBy('id', 'desc')
    .execute()
  return new Map(
    rows.map((row) => [
      row.point_id,
      {
        pointId: row.point_id,
        at: toInstant(row.at),
        who: row.who,
        isSure: row.is_sure,
        openPointIds: row.open_point_ids,
        elsewhere: row.elsewhere,
      },
    ]),
  )
}

/** The same word for all of these points, or none of it. @throws Refusal for a point that is none */
export async function sayOtherWater(
  ledger: Ledger,
  word: Pick<OtherWaterWord, 'isSure' | 'openPointIds' | 'elsewhere'> & {
    readonly pointIds: readonly number[]
  },
  { who, now }: Said,
): Promise<void> {
  for (const id of [...word.pointIds, ...word.openPointIds]) await findPoint(ledger, id)
  await ledger
    .insertInto('other_water_words')
    .values(
      word.pointIds.map((pointId) => ({
        at: toDate(now),
        who,
        point_id: pointId,
        is_sure: word.isSure,
        open_point_ids: word.openPointIds,
        elsewhere: word.elsewhere,
      })),
    )
    .execute()
}

/** Null takes the owner's date back. @throws Refusal for a point that is none */
export async function sayFirstUsed(
  ledger: Ledger,
  word: { readonly pointId: number; readonly species: Species; readonly on: NightDate | null },
  { who, now }: Said,
): Promise<void> {
  await findPoint(ledger, word.pointId)
  await ledger
    .insertInto('yard_first_used_words')
    .values({ at: toDate(now), who, point_id: word.pointId, species: word.species, first_used: word.on })
    .execute()
}
