/** From the facts of points to their rows of the water run: the words are decided by the pure core. */
import { toStationTime } from '../station-time.ts'
import { toInstant } from '../store/instants.ts'
import type { Ledger } from '../store/open.ts'
import type { Settings } from '../store/settings.ts'
import { watchedAtPoints } from '../store/watched.ts'
import type { WaterRunFacts } from '../store/water-run.ts'
import { knownUntil, watchedShare } from '../tally/effort.ts'
import { nightSpell } from '../tally/nights.ts'
import { cattleState, waterState } from '../tally/water-words.ts'
import { type Instant, type NightDate, SPECIES, type Spell } from '../words.ts'
import { isDown, pointOf, smallUrl, stationTime } from './answers.ts'
import type { WaterRunRow } from './shapes.ts'

const MS_PER_HOUR = 3_600_000
/** Watched time is asked for this many times the owner's limit back: further back it cannot change the word. */
const LIMITS_BACK = 3

interface Frame {
  readonly settings: Settings
  readonly now: Instant
  readonly night: NightDate
}

/** The rows of these points, in the order given. */
export async function waterRunRowsOf(
  ledger: Ledger,
  facts: readonly WaterRunFacts[],
  frame: Frame,
): Promise<WaterRunRow[]> {
  const limitMs = frame.settings.cattleAwayHours * MS_PER_HOUR
  // Only points where cattle have been away too long need their watched hours looked up, all of them at once.
  const away = facts.filter(
    ({ lastCattle }) => lastCattle !== null && frame.now - lastCattle.at.getTime() > limitMs,
  )
  const watched = await watchedAtPoints(
    ledger,
    away.map(({ point }) => point.id),
    { from: (frame.now - LIMITS_BACK * limitMs) as Instant, to: frame.now },
  )
  return facts.map((one) => rowOf(one, watched.get(one.point.id) ?? [], frame))
}

function rowOf(facts: WaterRunFacts, watched: readonly Spell[], frame: Frame): WaterRunRow {
  const { settings, now } = frame
  const { zone } = settings
  const contacts = facts.cameras.flatMap((camera) =>
    camera.lastContactAt ? [camera.lastContactAt.getTime()] : [],
  )
  const states = facts.states.map((row) => ({
    ...row,
    at: toInstant(row.at),
    levelPercent: row.level_percent,
  }))
  const marks = { lowMarkPercent: facts.point.low_mark_percent, dryMarkPercent: facts.point.dry_mark_percent }
  const water = waterState({ states, now, marks })
  return {
    point: pointOf(facts.point, settings),
    lastPhoto: facts.lastStill && {
      stillId: facts.lastStill.id,
      takenAt: stationTime(facts.lastStill.takenAt, zone),
      smallUrl: smallUrl(facts.lastStill.id),
    },
    lastContactAt: contacts.length > 0 ? toStationTime(Math.max(...contacts) as Instant, zone) : null,
    camera: cameraWord(facts, now),
    cattle: {
      lastSeenAt: facts.lastCattle && stationTime(facts.lastCattle.at, zone),
      stillId: facts.lastCattle?.stillId ?? null,
      state: cattleWord(facts, watched, frame),
    },
    feral: feralOf(facts, settings),
    watched: watchedOf(facts, frame),
    toCheck: facts.toCheck,
    water: { ...water, at: water.at === null ? null : toStationTime(water.at, zone) },
    trap: trapOf(states, zone),
    unreadable: facts.unreadable,
    clockInDoubt: facts.clockInDoubt,
  }
}

function cameraWord({ cameras }: WaterRunFacts, now: Instant): WaterRunRow['camera'] {
  if (cameras.length === 0) return 'none'
  const spoke = cameras.filter((camera) => camera.lastContactAt !== null)
  if (spoke.length === 0) return 'new'
  const down = spoke.filter((camera) => isDown(camera.lastContactAt, camera.expectedSilenceHours, now))
  if (down.length === 0) return 'watching'
  return down.length === spoke.length ? 'down' : 'some down'
}

function cattleWord(
  { lastCattle }: WaterRunFacts,
  watched: readonly Spell[],
  { settings, now }: Frame,
): WaterRunRow['cattle']['state'] {
  const lastSeenAt = lastCattle && toInstant(lastCattle.at)
  return cattleState({ lastSeenAt, now, limitHours: settings.cattleAwayHours, watched })
}

function feralOf({ feral }: WaterRunFacts, { zone }: Settings): WaterRunRow['feral'] {
  return SPECIES.flatMap((species) => {
    const row = feral.find((one) => one.species === species)
    if (row === undefined) return []
    return [
      {
        species,
        visits: row.visits,
        peak: row.peak,
        firstAt: stationTime(row.first_at, zone),
        lastAt: stationTime(row.last_at, zone),
        bestStillId: row.best_still_id,
      },
    ]
  })
}

function watchedOf(
  { cameras, watchedSeconds }: WaterRunFacts,
  { night, now, settings }: Frame,
): number | null {
  if (cameras.length === 0) return null
  const contacts = cameras.map((camera) => ({
    ...camera,
    lastContactAt: camera.lastContactAt && toInstant(camera.lastContactAt),
  }))
  return watchedShare({
    watchedSeconds,
    night: nightSpell(night, settings.zone),
    knownUntil: knownUntil(contacts, now),
  })
}

function trapOf(
  states: ReadonlyArray<{ readonly kind: string; readonly at: Instant }>,
  zone: Settings['zone'],
): WaterRunRow['trap'] {
  const TRAP = { 'trap open': 'open', 'trap set': 'set', 'trap shut down': 'shut down' } as const
  const latest = states
    .filter((state): state is { kind: keyof typeof TRAP; at: Instant } => state.kind in TRAP)
    .reduce<{ kind: keyof typeof TRAP; at: Instant } | null>(
      (a, b) => (a === null || b.at > a.at ? b : a),
      null,
    )
  return latest && { state: TRAP[latest.kind], at: toStationTime(latest.at, zone) }
}
