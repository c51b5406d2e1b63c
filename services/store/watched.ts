/** When points were watched. */
import { unionOf, watchedSpells, withoutSpells } from '../tally/effort.ts'
import type { Instant, Spell } from '../words.ts'
import { contactEnds, outerContactsOf, type WatchingSpell } from './contact-ends.ts'
import { wordSpellsAt } from './effort-words.ts'
import { toInstant } from './instants.ts'
import type { LedgerOrTransaction } from './settings.ts'
import { troubleSpellsOf } from './troubles.ts'

/** A camera's time at a point, and when in it the camera was awake. */
export interface AwakeCamera {
  readonly cameraId: number
  readonly pointId: number
  readonly up: Spell
  readonly awake: readonly Spell[]
}

/** Every camera that ever stood at one of the points, each of its times there by itself. */
export async function awakeAtPoints(
  ledger: LedgerOrTransaction,
  pointIds: readonly number[],
  spell: Spell,
): Promise<AwakeCamera[]> {
  const cameras = await ledger
    .selectFrom('deployments')
    .innerJoin('cameras', 'cameras.id', 'deployments.camera_id')
    .select([
      'deployments.id as deployment_id',
      'deployments.point_id',
      'camera_id',
      'started_at',
      'ended_at',
    ])
    .select(['expected_silence_hours', 'sends_heartbeats'])
    .where('deployments.point_id', 'in', pointIds)
    .execute()
  const speaking = cameras.filter((camera) => camera.sends_heartbeats)
  const quiet = cameras.filter((camera) => !camera.sends_heartbeats)
  const ends = await contactEnds(ledger, speaking, spell)
  const outer = await outerContactsOf(ledger, quiet)
  return cameras.map((camera) => {
    const contacts = camera.sends_heartbeats ? ends.get(camera.camera_id) : outer.get(camera.deployment_id)
    return {
      cameraId: camera.camera_id,
      pointId: camera.point_id,
      up: {
        from: camera.started_at === null ? FIRST_INSTANT : toInstant(camera.started_at),
        to: camera.ended_at === null ? LAST_INSTANT : toInstant(camera.ended_at),
      },
      awake: spellsOf(camera, contacts ?? []),
    }
  })
}

/** As far as instants of this house go (ECMA-262, section 21.4.1.1). */
const FIRST_INSTANT = -8.64e15 as Instant
const LAST_INSTANT = 8.64e15 as Instant

/**
 * When each point was watched within a spell: the union over its cameras, without what kept them from seeing, and by what a
 * person said of whole nights. A few statements, however many points.
 */
export async function watchedAtPoints(
  ledger: LedgerOrTransaction,
  pointIds: readonly number[],
  spell: Spell,
): Promise<Map<number, Spell[]>> {
  const watched = new Map<number, Spell[]>(pointIds.map((id) => [id, []]))
  if (pointIds.length === 0) return watched
  const cameras = await awakeAtPoints(ledger, pointIds, spell)
  const troubles = await troubleSpellsOf(ledger, [...new Set(cameras.map((one) => one.cameraId))], spell)
  const words = await wordSpellsAt(ledger, pointIds, spell)
  for (const { cameraId, pointId, awake } of cameras) {
    // It spoke, and could not see.
    const blind = (troubles.get(cameraId) ?? []).map((trouble) => trouble.spell)
    watched.get(pointId)?.push(...withoutSpells(awake, blind))
  }
  return new Map(
    [...watched].map(([id, spells]) => {
      const said = words.get(id)
      const all = said === undefined ? spells : [...withoutSpells(spells, said.none), ...said.whole]
      return [id, within(unionOf(all), spell)]
    }),
  )
}

/** When the point was watched within a spell. */
export async function watchedWithin(
  ledger: LedgerOrTransaction,
  pointId: number,
  spell: Spell,
): Promise<Spell[]> {
  return (await watchedAtPoints(ledger, [pointId], spell)).get(pointId) ?? []
}

function spellsOf(camera: WatchingSpell, contacts: readonly Instant[]): Spell[] {
  const from = camera.started_at && toInstant(camera.started_at)
  const to = camera.ended_at && toInstant(camera.ended_at)
  return watchedSpells({
    contacts,
    deployments: [{ from, to }],
    expectedSilenceHours: camera.expected_silence_hours,
    sendsHeartbeats: camera.sends_heartbeats,
  })
}

function within(spells: readonly Spell[], spell: Spell): Spell[] {
  return spells.flatMap(({ from, to }) => {
    const clipped = { from: Math.max(from, spell.from) as Instant, to: Math.min(to, spell.to) as Instant }
    return clipped.from < clipped.to ? [clipped] : []
  })
}
