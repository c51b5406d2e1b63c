/** What gate plans are worked out from: visits of some species, watched nights, and when yards were first used. */
import { sql } from 'kysely'
import { FATES, isGone } from '../tally/fates.ts'
import type { Instant, NightDate, Species, StateKind } from '../words.ts'
import { toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

export interface YardVisit {
  readonly pointId: number
  readonly species: Species
  readonly night: NightDate
  readonly startedAt: Instant
  readonly endedAt: Instant
  readonly peak: number
}

export interface YardSightings {
  /** In order of time. */
  readonly visits: readonly YardVisit[]
  /** Nights that were watched at all. */
  readonly effort: ReadonlyArray<{
    readonly pointId: number
    readonly night: NightDate
    readonly watchedSeconds: number
  }>
}

/** Nights `from` to `to`, both included. */
export async function readYardSightings(
  ledger: Ledger,
  asked: { readonly species: readonly Species[]; readonly from: NightDate; readonly to: NightDate },
): Promise<YardSightings> {
  const [visits, effort] = await Promise.all([
    ledger
      .selectFrom('visits')
      .select(['point_id', 'species', 'night', 'started_at', 'ended_at', 'peak'])
      .where('night', '>=', asked.from)
      .where('night', '<=', asked.to)
      .where('species', 'in', asked.species)
      .orderBy('started_at')
      .orderBy('id')
      .execute(),
    ledger
      .selectFrom('effort')
      .select(['point_id', 'night', 'watched_seconds'])
      .where('night', '>=', asked.from)
      .where('night', '<=', asked.to)
      .where('watched_seconds', '>', 0)
      .execute(),
  ])
  return {
    visits: visits.map((row) => ({
      pointId: row.point_id,
      species: row.species,
      night: row.night,
      startedAt: toInstant(row.started_at),
      endedAt: toInstant(row.ended_at),
      peak: row.peak,
    })),
    effort: effort.map((row) => ({
      pointId: row.point_id,
      night: row.night,
      watchedSeconds: row.watched_seconds,
    })),
  }
}

export interface FirstUse {
  readonly pointId: number
  readonly on: NightDate
  /** `said`: the owner's date. */
  readonly by: 'said' | 'trap open' | 'yard there'
}

/**
 * When a species first used each yard: the owner's date, else the first visit since a trap was said to be open or set there
 * (of portable panels since they were last brought in), else, where a yard stands and nobody said so, the first visit seen.
 */
export async function readFirstUses(ledger: Ledger, species: Species): Promise<FirstUse[]> {
  const { rows } = await sql<{
    point_id: number
    said: NightDate | null
    seen: NightDate | null
    opened: boolean
  }>`
    select p.id as point_id, w.first_used as said, t.at is not null as opened, v.night as seen
    from points p
    left join lateral (
      select first_used from yard_first_used_words
      where species = ${species} and point_id = p.id order by id desc limit 1
    ) w on true
    left join lateral (
      select min(at) as at from point_states s
      where s.point_id = p.id and s.source = 'tap' and s.kind in ('trap open', 'trap set')
        and (p.has_yard or s.at > coalesce((
          select max(at) from point_states d
          where d.point_id = p.id and d.source = 'tap' and d.kind = 'trap shut down'), '-infinity'))
    ) t on true
    left join lateral (
      select night from visits v
      where v.point_id = p.id and v.species = ${species} and (t.at is not null or p.has_yard)
        and v.started_at >= coalesce(t.at, '-infinity')
      order by v.started_at limit 1
    ) v on true
    where w.first_used is not null or v.night is not null
    order by p.id`.execute(ledger)
  return rows.map(({ point_id, said, seen, opened }) => ({
    pointId: point_id,
    on: (said ?? seen)!,
    by: said !== null ? 'said' : opened ? 'trap open' : 'yard there',
  }))
}

const WATER: readonly StateKind[] = ['water good', 'water low', 'water dry', 'water off']
const TRAP: readonly StateKind[] = ['trap open', 'trap set', 'trap shut down']

export interface YardStates {
  /** Points whose water was last said to be off or dry. */
  readonly withoutWater: ReadonlySet<number>
  /** The last word on the trap, where there is one. */
  readonly traps: ReadonlyMap<number, StateKind>
}

/** The last word of its sort at each point, by a step in an index for each. */
export async function readYardStates(ledger: Ledger): Promise<YardStates> {
  const last = (kinds: readonly StateKind[]) =>
    sql<{ point_id: number; kind: StateKind }>`
      select p.id as point_id, s.kind from points p
      join lateral (
        select kind from point_states where point_id = p.id and kind = any(${kinds}::text[])
        order by at desc, id desc limit 1
      ) s on true`.execute(ledger)
  const [water, traps] = await Promise.all([last(WATER), last(TRAP)])
  return {
    withoutWater: new Set(
      water.rows
        .filter(({ kind }) => kind === 'water off' || kind === 'water dry')
        .map(({ point_id }) => point_id),
    ),
    traps: new Map(traps.rows.map(({ point_id, kind }) => [point_id, kind])),
  }
}

/** Animal-visits of each species over all points in the nights `from` to `to`, both included. */
export async function countAnimalVisits(
  ledger: Ledger,
  { from, to }: { readonly from: NightDate; readonly to: NightDate },
): Promise<ReadonlyMap<Species, number>> {
  const rows = await ledger
    .selectFrom('nights')
    .select((e) => ['species', e.fn.sum<number>('sum_of_peaks').as('animals')])
    .where('night', '>=', from)
    .where('night', '<=', to)
    .groupBy('species')
    .execute()
  return new Map(rows.map(({ species, animals }) => [species, Number(animals)]))
}

/** What makes the counts of the nights `from` to `to` say other than what comes now. */
export interface CountsUnlike {
  /** Photos of these nights that the models have not read yet. */
  readonly waiting: number
  /** Head that were taken for good in them (outcomes.ts), by point: they are still in the counts of the nights before. */
  readonly taken: ReadonlyArray<{ readonly pointId: number; readonly head: number }>
}

export async function readCountsUnlike(
  ledger: Ledger,
  { species, from, to }: { readonly species: Species; readonly from: NightDate; readonly to: NightDate },
): Promise<CountsUnlike> {
  const [waiting, taken] = await Promise.all([
    ledger
      .selectFrom('stills')
      .select((e) => e.fn.countAll<number>().as('photos'))
      .where('state', '=', 'received')
      .where('night', '>=', from)
      .where('night', '<=', to)
      .executeTakeFirstOrThrow(),
    sql<{ point_id: number; head: number }>`
      select o.point_id, sum(o.head)::int as head from outcomes o
      where o.kind = 'taken' and o.species = ${species} and o.day >= ${from} and o.fate = any(${GONE}::text[])
        and not exists (select from outcomes w where w.withdraws = o.id)
      group by 1 having sum(o.head) > 0 order by 1`.execute(ledger),
  ])
  return {
    waiting: Number(waiting.photos),
    taken: taken.rows.map(({ point_id, head }) => ({ pointId: point_id, head })),
  }
}
const GONE = FATES.filter(isGone)
