/** The last day of a point, hour by hour. */
import { toStationTime } from '../station-time.ts'
import { listCameras } from '../store/cameras.ts'
import { toDate, toInstant } from '../store/instants.ts'
import { heardUpTo } from '../store/last-contact.ts'
import type { Ledger } from '../store/open.ts'
import type { Settings } from '../store/settings.ts'
import { listStills } from '../store/still-views.ts'
import { watchedWithin } from '../store/watched.ts'
import { secondsWithin } from '../tally/effort.ts'
import type { Instant, Spell } from '../words.ts'
import { stillOf } from './answers.ts'
import type { DayAnswer } from './shapes.ts'

const HOURS = 24
const MS_PER_HOUR = 3_600_000
const MAX_STILLS_SHOWN = 600

/**
 * 24 hours that end with the hour of `until`; they begin on the full hour of the station's clock, which in a zone with a
 * half-hour offset is not a full hour of UTC.
 */
export async function filmStrip(
  ledger: Ledger,
  {
    pointId,
    until,
    settings,
  }: { readonly pointId: number; readonly until: Instant; readonly settings: Settings },
): Promise<DayAnswer> {
  const minutesPast = Number(toStationTime(until, settings.zone).slice(14, 16))
  const lastHour = Math.floor(until / 60_000) * 60_000 - minutesPast * 60_000
  const from = (lastHour - (HOURS - 1) * MS_PER_HOUR) as Instant
  const [watched, open, views] = await Promise.all([
    watchedWithin(ledger, pointId, { from, to: until }),
    openSpells(ledger, pointId, until),
    listStills(
      ledger,
      { pointId, takenFrom: toDate(from), takenTo: toDate(until) },
      { place: null, limit: MAX_STILLS_SHOWN },
    ),
  ])
  const stills = views
    .filter((view) => view.still.clock_doubt === null)
    .map((view) => ({ at: view.still.taken_at.getTime(), still: stillOf(view, settings) }))
    .sort((a, b) => a.at - b.at || a.still.id - b.still.id)
  const watchedWord = (hour: Spell) => {
    // On the full hour the last one has only begun: nothing of it can have been watched yet.
    if (hour.to <= hour.from) {
      return open.some(({ from, to }) => from <= hour.from && hour.from <= to) ? 'not yet known' : 'no'
    }
    if (mostlyWithin(watched, hour)) return 'yes'
    return mostlyWithin([...watched, ...open], hour) ? 'not yet known' : 'no'
  }
  return {
    from: toStationTime(from, settings.zone),
    until: toStationTime(until, settings.zone),
    hours: Array.from({ length: HOURS }, (_, index) => {
      const startsAt = (from + index * MS_PER_HOUR) as Instant
      const hour: Spell = { from: startsAt, to: (startsAt + MS_PER_HOUR) as Instant }
      return {
        startsAt: toStationTime(startsAt, settings.zone),
        watched: watchedWord({ from: hour.from, to: Math.min(hour.to, until) as Instant }),
        stills: stills.filter(({ at }) => at >= hour.from && at < hour.to).map(({ still }) => still),
      }
    }),
  }
}

function mostlyWithin(spells: readonly Spell[], hour: Spell): boolean {
  return secondsWithin(spells, hour) * 1000 >= (hour.to - hour.from) / 2
}

/** From each camera's last contact to the end of its expected silence: it may well be watching. */
async function openSpells(ledger: Ledger, pointId: number, until: Instant): Promise<Spell[]> {
  const cameras = await heardUpTo(ledger, await listCameras(ledger, pointId), until)
  return cameras.flatMap(({ last_contact_at, expected_silence_hours, is_up }) => {
    if (last_contact_at === null || !is_up) return []
    const from = toInstant(last_contact_at)
    return [{ from, to: (from + expected_silence_hours * MS_PER_HOUR) as Instant }]
  })
}
