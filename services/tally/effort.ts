/** Effort: when a camera was watching. Its unit for a point is the watched point-night, 0 to 1 of a night. */
import type { Instant, Spell } from '../words.ts'

const HOUR_MS = 3_600_000

/** A spell in which a camera was meant to be working at the point. Null: not known, or not yet over. */
export interface Deployment {
  readonly from: Instant | null
  readonly to: Instant | null
}

export interface CameraRecord {
  /** Every still and heartbeat, in any order. */
  readonly contacts: readonly Instant[]
  readonly deployments: readonly Deployment[]
  /** The longest a working camera stays silent; longer, and nobody knows whether it was watching. */
  readonly expectedSilenceHours: number
  readonly sendsHeartbeats: boolean
}

/**
 * When a camera was watching, as spells in order that do not touch.
 *
 * A camera that sends heartbeats: between two consecutive contacts no further apart than its expected
 * silence, as far as they lie inside a deployment. For a part of its life give the contacts in it and the
 * one before and after.
 *
 * A camera that sends none: from the deployment's start (when that is not known, from the first contact in
 * it) to the last contact in it. A quiet spell can't be told from a dead camera there; counting it as not
 * watched would lose the quiet nights of quiet points and raise their rates. Only the first and the last
 * contact of each deployment matter.
 */
export function watchedSpells(camera: CameraRecord): Spell[] {
  const contacts = [...camera.contacts].sort((a, b) => a - b)
  return unionOf(
    camera.deployments.flatMap((deployment) =>
      camera.sendsHeartbeats
        ? betweenContacts(contacts, camera.expectedSilenceHours, deployment)
        : toLastContact(contacts, deployment),
    ),
  )
}

/** The same stretch of time in the fewest spells, in order; spells that touch become one, empty ones go. */
export function unionOf(spells: readonly Spell[]): Spell[] {
  const union: Spell[] = []
  for (const spell of spells.filter(({ from, to }) => to > from).sort((a, b) => a.from - b.from)) {
    const last = union.at(-1)
    if (last === undefined || spell.from > last.to) union.push(spell)
    else if (spell.to > last.to) union[union.length - 1] = { from: last.from, to: spell.to }
  }
  return union
}

/** What of some spells lies in none of the others. */
export function withoutSpells(spells: readonly Spell[], others: readonly Spell[]): Spell[] {
  let left = unionOf(spells)
  for (const gone of unionOf(others)) {
    left = left.flatMap(({ from, to }) => [
      { from, to: Math.min(to, gone.from) as Instant },
      { from: Math.max(from, gone.to) as Instant, to },
    ])
    left = left.filter(({ from, to }) => from < to)
  }
  return left
}

/** Seconds of `spell` that lie in any of `spells`; what lies in two of them counts once. */
export function secondsWithin(spells: readonly Spell[], spell: Spell): number {
  let ms = 0
  for (const { from, to } of unionOf(spells)) {
    ms += Math.max(0, Math.min(to, spell.to) - Math.max(from, spell.from))
  }
  return ms / 1000
}

/**
 * Up to when it is known whether a point was watched: while any camera of it is not overdue, the last contact, because
 * only its next one tells of the time since; once all are overdue that silence is itself known, up to `now`.
 */
export function knownUntil(
  cameras: ReadonlyArray<{ readonly lastContactAt: Instant | null; readonly expectedSilenceHours: number }>,
  now: Instant,
): Instant {
  const contacts = cameras.flatMap(({ lastContactAt }) => (lastContactAt === null ? [] : [lastContactAt]))
  const speaking = cameras.some(
    ({ lastContactAt, expectedSilenceHours }) =>
      lastContactAt !== null && now - lastContactAt <= expectedSilenceHours * HOUR_MS,
  )
  return speaking ? (Math.min(now, Math.max(...contacts)) as Instant) : now
}

/** The watched part of what is known of a night, 0 to 1; null where nothing of it is known yet. */
export function watchedShare(given: {
  readonly watchedSeconds: number
  readonly night: Spell
  readonly knownUntil: Instant
}): number | null {
  const knownSeconds = (Math.min(given.night.to, given.knownUntil) - given.night.from) / 1000
  return knownSeconds > 0 ? Math.min(1, given.watchedSeconds / knownSeconds) : null
}

/** A contact that is about to be added, and what was known around it. */
export interface NewContact {
  readonly cameraId: number
  readonly pointId: number
  readonly at: Instant
  /** The known contacts next to it; for a camera without heartbeats only those in the same deployment. */
  readonly before: Instant | null
  readonly after: Instant | null
  /** A contact at that very instant is known. */
  readonly known: boolean
  readonly expectedSilenceHours: number
  readonly sendsHeartbeats: boolean
  /** The deployment it lies in; asked for only where the camera sends no heartbeats. */
  readonly deployment: { readonly id: number; readonly from: Instant | null } | null
}

export interface ChangedSpell {
  readonly pointId: number
  readonly spell: Spell
}

/**
 * Where new contacts can change what was watched; no more than that is counted again. A contact between two that were
 * close enough already changes nothing, which is the common case.
 */
export function spellsChangedBy(contacts: readonly NewContact[]): ChangedSpell[] {
  const gaps = new Map<string, NewContact[]>()
  for (const contact of contacts.filter(({ known }) => !known)) {
    const { cameraId, deployment, before, after } = contact
    const key = `${cameraId} ${deployment?.id} ${before} ${after}`
    const gap = gaps.get(key)
    if (gap === undefined) gaps.set(key, [contact])
    else gap.push(contact)
  }
  return [...gaps.values()].flatMap((gap) => {
    const spells = gap[0]!.sendsHeartbeats ? spellsInGap(gap) : spellsOfQuietCamera(gap)
    const points = [...new Set(gap.map(({ pointId }) => pointId))]
    return points.flatMap((pointId) => spells.map((spell) => ({ pointId, spell })))
  })
}

/** All in one gap between two known contacts. */
function spellsInGap(gap: readonly NewContact[]): Spell[] {
  const { before, after, expectedSilenceHours } = gap[0]!
  const silenceMs = expectedSilenceHours * HOUR_MS
  if (before !== null && after !== null && after - before <= silenceMs) return []
  const inOrder = [before, ...gap.map(({ at }) => at).sort((a, b) => a - b), after].filter(
    (at) => at !== null,
  )
  return inOrder.slice(1).flatMap((to, i) => {
    const from = inOrder[i]!
    return from < to && to - from <= silenceMs ? [{ from, to }] : []
  })
}

/** Without heartbeats, watching runs from a deployment's start to its last contact: only a new outer contact counts. */
function spellsOfQuietCamera(gap: readonly NewContact[]): Spell[] {
  const { before, after, deployment } = gap[0]!
  if (deployment === null || (before !== null && after !== null)) return []
  const times = gap.map(({ at }) => at)
  const from = before ?? deployment.from ?? (Math.min(...times) as Instant)
  const to = after ?? (Math.max(...times) as Instant)
  return from < to ? [{ from, to }] : []
}

function betweenContacts(
  contacts: readonly Instant[],
  silenceHours: number,
  deployment: Deployment,
): Spell[] {
  const spells: Spell[] = []
  let previous: Instant | undefined
  for (const contact of contacts) {
    if (previous !== undefined && contact - previous <= silenceHours * HOUR_MS) {
      spells.push({ from: later(previous, deployment.from), to: earlier(contact, deployment.to) })
    }
    previous = contact
  }
  return spells
}

function toLastContact(contacts: readonly Instant[], deployment: Deployment): Spell[] {
  const inside = contacts.filter(
    (at) =>
      (deployment.from === null || at >= deployment.from) && (deployment.to === null || at <= deployment.to),
  )
  const first = inside[0]
  const last = inside.at(-1)
  return first === undefined || last === undefined ? [] : [{ from: deployment.from ?? first, to: last }]
}

const later = (a: Instant, b: Instant | null): Instant => (b !== null && b > a ? b : a)
const earlier = (a: Instant, b: Instant | null): Instant => (b !== null && b < a ? b : a)
