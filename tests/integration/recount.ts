/**
 * Counts a ledger again from nothing with the pure core, straight from stills, boxes, checks and contacts: an answer of
 * its own to hold the kept aggregates against.
 */
import type { Ledger } from '../../services/store/open.ts'
import { readSettings } from '../../services/store/settings.ts'
import { secondsWithin, unionOf, watchedSpells, withoutSpells } from '../../services/tally/effort.ts'
import { judgeStill } from '../../services/tally/judge.ts'
import { nightRowsOf } from '../../services/tally/night-rows.ts'
import { nextNight, nightOf, nightSpell } from '../../services/tally/nights.ts'
import { type Sighting, visitsOf } from '../../services/tally/visits.ts'
import { type Instant, type NightDate, SPECIES, type Tally } from '../../services/words.ts'

const instant = (date: Date) => date.getTime() as Instant

export interface Aggregates {
  readonly visits: readonly object[]
  readonly nights: readonly object[]
  readonly effort: ReadonlyArray<{ pointId: number; night: NightDate; watchedSeconds: number }>
}

/** What the ledger keeps, in a fixed order, without ids of rows. */
export async function keptAggregates(ledger: Ledger): Promise<Aggregates> {
  const [visits, nights, effort] = await Promise.all([
    ledger
      .selectFrom('visits')
      .selectAll()
      .orderBy('point_id')
      .orderBy('species')
      .orderBy('started_at')
      .execute(),
    ledger.selectFrom('nights').selectAll().orderBy('point_id').orderBy('species').orderBy('night').execute(),
    ledger.selectFrom('effort').selectAll().orderBy('point_id').orderBy('night').execute(),
  ])
  return {
    visits: visits.map(({ id: _, started_at, ended_at, best_still_id: best, ...row }) => ({
      ...row,
      started_at: instant(started_at),
      ended_at: instant(ended_at),
      best,
    })),
    nights,
    effort: effort.map((row) => ({
      pointId: row.point_id,
      night: row.night,
      watchedSeconds: Math.round(row.watched_seconds),
    })),
  }
}

export async function recountFromNothing(ledger: Ledger): Promise<Aggregates> {
  const settings = await readSettings(ledger)
  const points = await ledger.selectFrom('points').select('id').orderBy('id').execute()
  const visits: object[] = []
  const nights: object[] = []
  const effort: Array<{ pointId: number; night: NightDate; watchedSeconds: number }> = []
  for (const { id: pointId } of points) {
    const sightings = await sightingsOf(ledger, pointId)
    for (const species of [...SPECIES].sort()) {
      const ofSpecies = sightings.get(species) ?? []
      const found = visitsOf(ofSpecies, settings.visitGapMinutes)
      for (const visit of found) {
        visits.push({
          point_id: pointId,
          species,
          night: nightOf(visit.startedAt, settings.zone),
          peak: visit.peak,
          photos: visit.photos,
          started_at: visit.startedAt,
          ended_at: visit.endedAt,
          best: visit.bestStillId,
        })
      }
      for (const row of nightRowsOf({ sightings: ofSpecies, visits: found, zone: settings.zone })) {
        nights.push({
          point_id: pointId,
          night: row.night,
          species,
          visits: row.visits,
          least: row.least,
          sum_of_peaks: row.sumOfPeaks,
          photos: row.photos,
        })
      }
    }
    effort.push(...(await effortOf(ledger, pointId)))
  }
  return { visits, nights, effort }
}

async function sightingsOf(ledger: Ledger, pointId: number): Promise<Map<string, Sighting[]>> {
  const settings = await readSettings(ledger)
  const stills = await ledger
    .selectFrom('stills')
    .selectAll()
    .where('point_id', '=', pointId)
    .where('state', '=', 'done')
    .where('clock_doubt', 'is', null)
    .execute()
  const sightings = new Map<string, Sighting[]>()
  for (const still of stills) {
    const boxes = await ledger.selectFrom('detections').selectAll().where('still_id', '=', still.id).execute()
    const found = boxes.map((row) => ({
      species: row.species,
      score: row.score,
      runnerUp: row.runner_up,
      box: [row.x0, row.y0, row.x1, row.y1] as const,
    }))
    const checks = await ledger
      .selectFrom('checks')
      .selectAll()
      .where('still_id', '=', still.id)
      .orderBy('id')
      .execute()
    const last = checks.at(-1)
    const check = last === undefined || last.verdict === 'withdrawn' ? null : last
    const judged = judgeStill({ found, thresholds: settings.thresholds, feral: settings.feral })
    const tally: Tally = check?.counts ?? judged.tally
    for (const species of SPECIES) {
      const head = tally[species] ?? 0
      if (head === 0) continue
      const scores = found.filter((box) => box.species === species).map((box) => box.score)
      const list = sightings.get(species) ?? []
      list.push({
        stillId: still.id,
        at: instant(still.taken_at),
        head,
        score: check === null ? Math.max(...scores) : 1,
      })
      sightings.set(species, list)
    }
  }
  return sightings
}

async function effortOf(ledger: Ledger, pointId: number) {
  const { zone } = await readSettings(ledger)
  const deployments = await ledger
    .selectFrom('deployments')
    .innerJoin('cameras', 'cameras.id', 'deployments.camera_id')
    .selectAll()
    .where('deployments.point_id', '=', pointId)
    .execute()
  const spells = []
  for (const one of deployments) {
    const stills = await ledger
      .selectFrom('stills')
      .select('taken_at')
      .where('camera_id', '=', one.camera_id)
      .where('clock_doubt', 'is', null)
      .execute()
    const heartbeats = await ledger
      .selectFrom('heartbeats')
      .select('at')
      .where('camera_id', '=', one.camera_id)
      .execute()
    const seeing = watchedSpells({
      contacts: [...stills.map((row) => instant(row.taken_at)), ...heartbeats.map((row) => instant(row.at))],
      deployments: [
        { from: one.started_at && instant(one.started_at), to: one.ended_at && instant(one.ended_at) },
      ],
      expectedSilenceHours: one.expected_silence_hours,
      sendsHeartbeats: one.sends_heartbeats,
    })
    const troubles = await ledger
      .selectFrom('camera_troubles')
      .selectAll()
      .where('camera_id', '=', one.camera_id)
      .where('is_fine', '=', false)
      .execute()
    spells.push(
      ...withoutSpells(
        seeing,
        troubles.map((row) => ({
          from: instant(row.from_at),
          to: row.to_at === null ? (Number.MAX_SAFE_INTEGER as Instant) : instant(row.to_at),
        })),
      ),
    )
  }
  const watched = unionOf(spells)
  const rows = new Map<NightDate, number>()
  const first = watched[0]
  const last = watched.at(-1)
  if (first !== undefined && last !== undefined) {
    for (let night = nightOf(first.from, zone); night <= nightOf(last.to, zone); night = nextNight(night))
      rows.set(night, secondsWithin(watched, nightSpell(night, zone)))
  }
  const words = await ledger
    .selectFrom('effort_words')
    .selectAll()
    .where('point_id', '=', pointId)
    .orderBy('id')
    .execute()
  // The latest word of a night stands.
  const shares = new Map(words.map(({ night, share }) => [night, share]))
  for (const [night, share] of shares) {
    const { from, to } = nightSpell(night, zone)
    if (share !== null) rows.set(night, (share * (to - from)) / 1000)
  }
  return [...rows]
    .map(([night, seconds]) => ({ pointId, night, watchedSeconds: Math.round(seconds) }))
    .filter(({ watchedSeconds }) => watchedSeconds > 0)
    .sort((a, b) => (a.night < b.night ? -1 : 1))
}
