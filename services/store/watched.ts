/** When a point was watched. */
import { unionOf, watchedSpells } from '../tally/effort.ts'
import type { Instant, Spell } from '../words.ts'
import { contactsWithin, outerContacts } from './contacts.ts'
import { toInstant } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'

const MS_PER_HOUR = 3_600_000

/** When the point was watched within a spell: the union over its cameras. */
export async function watchedWithin(
  ledger: LedgerOrTransaction,
  pointId: number,
  spell: Spell,
): Promise<Spell[]> {
  const deployments = await ledger
    .selectFrom('deployments')
    .innerJoin('cameras', 'cameras.id', 'deployments.camera_id')
    .select(['cameras.id', 'expected_silence_hours', 'sends_heartbeats', 'started_at', 'ended_at'])
    .where('deployments.point_id', '=', pointId)
    .execute()
  const watched: Spell[] = []
  for (const camera of deployments) {
    const silenceMs = camera.expected_silence_hours * MS_PER_HOUR
    const contacts = camera.sends_heartbeats
      ? await contactsWithin(ledger, camera.id, {
          from: (spell.from - silenceMs) as Instant,
          to: (spell.to + silenceMs) as Instant,
        })
      : await outerContacts(ledger, camera.id, camera)
    watched.push(
      ...watchedSpells({
        contacts,
        deployments: [
          {
            from: camera.started_at === null ? null : toInstant(camera.started_at),
            to: camera.ended_at === null ? null : toInstant(camera.ended_at),
          },
        ],
        expectedSilenceHours: camera.expected_silence_hours,
        sendsHeartbeats: camera.sends_heartbeats,
      }),
    )
  }
  return unionOf(watched).flatMap(({ from, to }) => {
    const clipped = { from: Math.max(from, spell.from) as Instant, to: Math.min(to, spell.to) as Instant }
    return clipped.from < clipped.to ? [clipped] : []
  })
}
