/** Why a part of a night was not watched, camera by camera. */
import type { Spell } from '../words.ts'
import { unionOf, withoutSpells } from './effort.ts'

export const NOT_WATCHED_BECAUSE = [
  'not up',
  'down',
  'card full',
  'blind',
  'knocked',
  'unreadable',
  'not yet known',
] as const
export type NotWatchedBecause = (typeof NOT_WATCHED_BECAUSE)[number]

export interface CameraWatching {
  readonly name: string
  /** When it stood at the point. */
  readonly up: readonly Spell[]
  /** When it spoke often enough to have been awake (effort.ts). */
  readonly awake: readonly Spell[]
  readonly troubles: ReadonlyArray<{
    readonly kind: Exclude<NotWatchedBecause, 'not up' | 'down' | 'not yet known'>
    readonly spell: Spell
  }>
}

export interface NotWatched {
  readonly camera: string
  readonly why: NotWatchedBecause
  readonly hours: number
}

/** Less of a night than this is nobody's question. */
const LEAST_SECONDS = 360

/**
 * For what of `night` no camera watched: what kept each from it, the longest first. `knownUntil`: what is later is not known
 * yet. One time may have two reasons: at two cameras, or a camera that was blind and then fell silent.
 */
export function whyNotWatched(
  cameras: readonly CameraWatching[],
  { night, knownUntil }: { readonly night: Spell; readonly knownUntil: number },
): NotWatched[] {
  const seeing = cameras.flatMap(({ awake, troubles }) =>
    withoutSpells(
      awake,
      troubles.map(({ spell }) => spell),
    ),
  )
  const missing = withoutSpells([night], seeing)
  return cameras
    .flatMap((camera) => reasonsOf(camera, { missing, knownUntil }))
    .filter(({ hours }) => hours * 3600 >= LEAST_SECONDS)
    .sort((a, b) => b.hours - a.hours)
}

function reasonsOf(
  { name, up, awake, troubles }: CameraWatching,
  { missing, knownUntil }: { readonly missing: readonly Spell[]; readonly knownUntil: number },
): NotWatched[] {
  const known = missing.flatMap(({ from, to }) =>
    from < knownUntil ? [{ from, to: Math.min(to, knownUntil) as Spell['to'] }] : [],
  )
  const later = withoutSpells(missing, known)
  const troubled = troubles.map(({ kind, spell }) => ({ why: kind, spells: overlap(missing, [spell]) }))
  const notUp = withoutSpells(missing, up)
  const rest = (some: readonly Spell[]) =>
    withoutSpells(some, [...notUp, ...awake, ...troubled.flatMap(({ spells }) => spells)])
  const parts: Array<{ readonly why: NotWatchedBecause; readonly spells: readonly Spell[] }> = [
    { why: 'not up', spells: notUp },
    ...troubled,
    { why: 'down', spells: rest(known) },
    { why: 'not yet known', spells: rest(later) },
  ]
  return parts.map(({ why, spells }) => ({
    camera: name,
    why,
    hours: unionOf(spells).reduce((ms, { from, to }) => ms + to - from, 0) / 3_600_000,
  }))
}

function overlap(some: readonly Spell[], others: readonly Spell[]): Spell[] {
  const all = unionOf(others)
  return withoutSpells(some, withoutSpells(some, all))
}
