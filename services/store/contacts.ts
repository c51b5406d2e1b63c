/** Contacts of a camera: every time it is known to have been awake. */
import { type RawBuilder, sql, type Transaction } from 'kysely'
import type { NewContact } from '../tally/effort.ts'
import type { Instant } from '../words.ts'
import { toDate, toInstant } from './instants.ts'
import type { Tables } from './tables.ts'

export interface ContactToAdd {
  readonly cameraId: number
  readonly pointId: number
  readonly at: Instant
}

/** What is known around contacts that are not in the ledger yet: one question for all of them. */
export async function aroundContacts(
  tx: Transaction<Tables>,
  contacts: readonly ContactToAdd[],
): Promise<NewContact[]> {
  if (contacts.length === 0) return []
  const inside = (at: string) => sql`${sql.ref(at)} >= coalesce(d.started_at, '-infinity')
    and ${sql.ref(at)} <= coalesce(d.ended_at, 'infinity')`
  const stills = (where: RawBuilder<unknown>) => sql`from stills where camera_id = n.camera_id
    and clock_doubt is null and ${inside('taken_at')} and ${where}`
  const heartbeats = (where: RawBuilder<unknown>) => sql`from heartbeats where camera_id = n.camera_id
    and ${inside('at')} and ${where}`
  const { rows } = await sql<Around>`
    select c.expected_silence_hours, c.sends_heartbeats, d.id as deployment_id, d.started_at,
      greatest((select max(taken_at) ${stills(sql`taken_at < n.moment`)}),
        (select max(at) ${heartbeats(sql`at < n.moment`)})) as before,
      least((select min(taken_at) ${stills(sql`taken_at > n.moment`)}),
        (select min(at) ${heartbeats(sql`at > n.moment`)})) as after,
      exists (select ${stills(sql`taken_at = n.moment`)})
        or exists (select ${heartbeats(sql`at = n.moment`)}) as known
    from unnest(${contacts.map(({ cameraId }) => cameraId)}::int[],
      ${contacts.map(({ at }) => toDate(at))}::timestamptz[]) with ordinality as n (camera_id, moment, place)
    join cameras c on c.id = n.camera_id
    left join lateral (
      select id, started_at, ended_at from deployments
      where camera_id = n.camera_id and not c.sends_heartbeats
        and n.moment between coalesce(started_at, '-infinity') and coalesce(ended_at, 'infinity')
      order by id desc limit 1
    ) d on true
    order by n.place`.execute(tx)
  return contacts.map((contact, i) => {
    const row = rows[i]!
    return {
      ...contact,
      before: row.before && toInstant(row.before),
      after: row.after && toInstant(row.after),
      known: row.known,
      expectedSilenceHours: row.expected_silence_hours,
      sendsHeartbeats: row.sends_heartbeats,
      deployment:
        row.deployment_id === null
          ? null
          : { id: row.deployment_id, from: row.started_at && toInstant(row.started_at) },
    }
  })
}

interface Around {
  readonly expected_silence_hours: number
  readonly sends_heartbeats: boolean
  readonly deployment_id: number | null
  readonly started_at: Date | null
  readonly before: Date | null
  readonly after: Date | null
  readonly known: boolean
}
