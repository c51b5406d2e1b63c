/** How the nights of a point were watched: how much, why not the rest, and what people said of it. */
import { toStationTime } from '../station-time.ts'
import { listCameras } from '../store/cameras.ts'
import type { Ledger } from '../store/open.ts'
import { listEffortWords } from '../store/say-effort.ts'
import type { Settings } from '../store/settings.ts'
import { troubleSpellsOf } from '../store/troubles.ts'
import { readPointNights } from '../store/visit-views.ts'
import { awakeAtPoints } from '../store/watched.ts'
import { knownUntil, watchedShare } from '../tally/effort.ts'
import { nightSpell, nightsBetween } from '../tally/nights.ts'
import { type CameraWatching, whyNotWatched } from '../tally/why-not-watched.ts'
import type { Instant, NightDate, Spell } from '../words.ts'
import { stationTime } from './answers.ts'
import type { WatchingAnswer } from './camera-shapes.ts'
import { rounded } from './rounded.ts'

export async function watchingOf(
  ledger: Ledger,
  { pointId, from, to }: { readonly pointId: number; readonly from: NightDate; readonly to: NightDate },
  { settings, now }: { readonly settings: Settings; readonly now: Instant },
): Promise<WatchingAnswer> {
  const { zone } = settings
  const whole: Spell = { from: nightSpell(from, zone).from, to: nightSpell(to, zone).to }
  const [cameras, kept, words] = await Promise.all([
    camerasWatching(ledger, pointId, whole),
    readPointNights(ledger, pointId, { from, to, now }),
    listEffortWords(ledger, pointId, { from, to }),
  ])
  const known = knownUntil(kept.cameras, now)
  return {
    nights: nightsBetween(from, to).map((night) => {
      const spell = nightSpell(night, zone)
      const said = words.filter((row) => row.night === night)
      const standing = said[0]?.share ?? null
      return {
        night,
        from: toStationTime(spell.from, zone),
        to: toStationTime(spell.to, zone),
        watched: watchedShare({
          watchedSeconds: kept.watchedSeconds.get(night) ?? 0,
          night: spell,
          knownUntil: standing === null ? known : (Math.max(known, spell.to) as Instant),
        }),
        byHand: standing !== null,
        words: said.map((row) => ({
          share: row.share,
          at: stationTime(row.at, zone),
          who: row.who,
          note: row.note,
        })),
        notWatched: whyNotWatched(cameras, { night: spell, knownUntil: Math.min(known, now) }).map((one) => ({
          ...one,
          hours: rounded(one.hours),
        })),
      }
    }),
  }
}

async function camerasWatching(ledger: Ledger, pointId: number, spell: Spell): Promise<CameraWatching[]> {
  const times = await awakeAtPoints(ledger, [pointId], spell)
  const ids = [...new Set(times.map(({ cameraId }) => cameraId))]
  const troubles = await troubleSpellsOf(ledger, ids, spell)
  const names = new Map((await listCameras(ledger)).map((row) => [row.id, row.name]))
  return ids.map((id) => {
    const own = times.filter(({ cameraId }) => cameraId === id)
    return {
      name: names.get(id) ?? '',
      up: own.map(({ up }) => up),
      awake: own.flatMap(({ awake }) => awake),
      troubles: troubles.get(id) ?? [],
    }
  })
}
