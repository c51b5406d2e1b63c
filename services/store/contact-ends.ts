/** The contacts that say when cameras were watching, and no more of them: a busy camera has thousands a week. */
import { sql } from 'kysely'
import type { Instant, Spell } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'

const SECONDS_PER_HOUR = 3_600

/** A spell in which a camera was meant to work at a point. */
export interface WatchingSpell {
  readonly deployment_id: number
  readonly camera_id: number
  readonly expected_silence_hours: number
  readonly sends_heartbeats: boolean
  readonly started_at: Date | null
  readonly ended_at: Date | null
}

/**
 * For cameras with heartbeats: of each stretch as long as their expected silence only the first and the last contact in
 * `spell`, widened by that silence. What lies between them is watched in any case, so the watched time is the same.
 */
export async function contactEnds(
  ledger: LedgerOrTransaction,
  cameras: readonly WatchingSpell[],
  spell: Spell,
): Promise<Map<number, Instant[]>> {
  const contacts = new Map<number, Instant[]>(cameras.map(({ camera_id }) => [camera_id, []]))
  if (cameras.length === 0) return contacts
  const silences = new Map(cameras.map((camera) => [camera.camera_id, camera.expected_silence_hours]))
  const { rows } = await sql<{ camera_id: number; first: Date; last: Date }>`
    select c.camera_id, min(t.at) as first, max(t.at) as last
    from unnest(${[...silences.keys()]}::int[], ${[...silences.values()].map((hours) => hours * SECONDS_PER_HOUR)}::float8[])
      as c (camera_id, silence_seconds)
    cross join lateral (
      select taken_at as at from stills where camera_id = c.camera_id and clock_doubt is null
        and taken_at >= ${toDate(spell.from)}::timestamptz - make_interval(secs => c.silence_seconds)
        and taken_at <= ${toDate(spell.to)}::timestamptz + make_interval(secs => c.silence_seconds)
      union all
      select at from heartbeats where camera_id = c.camera_id
        and at >= ${toDate(spell.from)}::timestamptz - make_interval(secs => c.silence_seconds)
        and at <= ${toDate(spell.to)}::timestamptz + make_interval(secs => c.silence_seconds)
    ) t
    group by c.camera_id, floor(extract(epoch from t.at) / c.silence_seconds)`.execute(ledger)
  for (const row of rows) contacts.get(row.camera_id)?.push(toInstant(row.first), toInstant(row.last))
  return contacts
}

/** For cameras without heartbeats: the first and the last contact inside each of their spells at a point. */
export async function outerContactsOf(
  ledger: LedgerOrTransaction,
  spells: readonly WatchingSpell[],
): Promise<Map<number, Instant[]>> {
  const contacts = new Map<number, Instant[]>()
  if (spells.length === 0) return contacts
  const inside = (at: string) => sql`${sql.ref(at)} >= coalesce(d.started_at, '-infinity')
    and ${sql.ref(at)} <= coalesce(d.ended_at, 'infinity')`
  const stills = sql`from stills where camera_id = d.camera_id and clock_doubt is null and ${inside('taken_at')}`
  const heartbeats = sql`from heartbeats where camera_id = d.camera_id and ${inside('at')}`
  const { rows } = await sql<{ id: number; first: Date | null; last: Date | null }>`
    select d.id, least((select min(taken_at) ${stills}), (select min(at) ${heartbeats})) as first,
      greatest((select max(taken_at) ${stills}), (select max(at) ${heartbeats})) as last
    from deployments d where d.id = any(${spells.map((spell) => spell.deployment_id)}::int[])`.execute(ledger)
  for (const { id, first, last } of rows) {
    if (first !== null && last !== null) contacts.set(id, [toInstant(first), toInstant(last)])
  }
  return contacts
}
