/** From the facts of points to their rows of the water run: the words are decided by the pure core. */
import { toStationTime } from '../station-time.ts'
import { readCattleNews } from '../store/cattle-limits.ts'
import { toInstant } from '../store/instants.ts'
import { listCamerasWithoutMail } from '../store/mail-progress.ts'
import type { Ledger } from '../store/open.ts'
import type { Settings } from '../store/settings.ts'
import { type FailingSource, listFailingSources } from '../store/sources.ts'
import { watchedAtPoints } from '../store/watched.ts'
import type { WaterRunFacts } from '../store/water-run.ts'
import { knownUntil, watchedShare } from '../tally/effort.ts'
import { nightSpell } from '../tally/nights.ts'
import { waterState } from '../tally/water-words.ts'
import { type Instant, type NightDate, SPECIES, type Spell } from '../words.ts'
import { isDown, pointOf, smallUrl, stationTime } from './answers.ts'
import { batteriesOf, soonFlat } from './battery-answer.ts'
import type { Battery } from './battery-shapes.ts'
import { type CattleFrame, cattleOf, limitAt } from './cattle-row.ts'
import type { WaterRunRow } from './shapes.ts'
import { readTraps } from './trap-row.ts'
import type { TrapAnswer } from './trap-shapes.ts'

const MS_PER_HOUR = 3_600_000
/** Watched time is asked for this many times the owner's longest back: what nobody has watched since is no news. */
const LIMITS_BACK = 3

interface Frame {
  readonly settings: Settings
  readonly now: Instant
  readonly night: NightDate
}

interface RowFrame extends Frame, CattleFrame {
  readonly traps: ReadonlyMap<number, TrapAnswer>
  readonly batteries: readonly Battery[]
  readonly failing: readonly FailingSource[]
}

/** The rows of these points, in the order given. */
export async function waterRunRowsOf(
  ledger: Ledger,
  facts: readonly WaterRunFacts[],
  frame: Frame,
): Promise<WaterRunRow[]> {
  const ids = facts.map(({ point }) => point.id)
  const pointId = ids.length === 1 ? ids[0] : undefined
  const [news, batteries, sources, mail, traps] = await Promise.all([
    readCattleNews(ledger, { pointIds: ids, now: frame.now }),
    batteriesOf(ledger, { now: frame.now, zone: frame.settings.zone, pointId }),
    listFailingSources(ledger),
    listCamerasWithoutMail(ledger),
    readTraps(ledger, {
      now: frame.now,
      zone: frame.settings.zone,
      pointId,
    }),
  ])
  const cattle = { ...frame, news, batteries, failing: [...sources, ...mail], traps }
  const longestMs = frame.settings.cattleAwayHours * MS_PER_HOUR
  // Only points where cattle have been away too long need their watched hours looked up, all of them at once.
  const away = facts.flatMap((one) => {
    const limitMs = limitAt(one, cattle).hours * MS_PER_HOUR
    const seen = one.lastCattle?.at.getTime()
    if (seen === undefined || frame.now - seen <= limitMs) return []
    return [{ id: one.point.id, from: Math.max(seen, frame.now - LIMITS_BACK * longestMs) }]
  })
  const watched = await watchedAtPoints(
    ledger,
    away.map(({ id }) => id),
    { from: Math.min(frame.now, ...away.map(({ from }) => from)) as Instant, to: frame.now },
  )
  return facts.map((one) => rowOf(one, watched.get(one.point.id) ?? [], cattle))
}

function rowOf(facts: WaterRunFacts, watched: readonly Spell[], frame: RowFrame): WaterRunRow {
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
    cattle: cattleOf(facts, watched, frame),
    feral: feralOf(facts, settings),
    watched: watchedOf(facts, frame),
    toCheck: facts.toCheck,
    water: { ...water, at: water.at === null ? null : toStationTime(water.at, zone) },
    trap: frame.traps.get(facts.point.id) ?? null,
    notFetched: frame.failing
      .filter(({ pointId }) => pointId === facts.point.id)
      .map(({ cameraName, reason }) => ({ cameraName, reason })),
    batteries: soonFlat(frame.batteries, facts.point.id),
    unreadable: facts.unreadable,
    unreadableRise: facts.unreadableRise,
    clockInDoubt: facts.clockInDoubt,
    cannotSee: [...facts.cannotSee],
  }
}

function cameraWord({ cameras }: WaterRunFacts, now: Instant): WaterRunRow['camera'] {
  if (cameras.length === 0) return 'none'
  const spoke = cameras.filter((camera) => camera.lastContactAt !== null)
  if (spoke.length === 0) return 'new'
  const down = spoke.filter((camera) => isDown(camera.lastContactAt, camera.expectedSilenceHours, now))
  if (down.length === spoke.length) return 'down'
  const blind = spoke.filter((camera) => camera.cannotSee && !down.includes(camera))
  if (down.length + blind.length === spoke.length) return 'cannot see'
  return down.length === 0 ? 'watching' : 'some down'
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
