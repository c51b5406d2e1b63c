/** Which photos the evidence is told from, and for how many each stands. */
import { sql } from 'kysely'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { readAuditWeeks } from '../../services/store/audit-evidence.ts'
import { drawWeek, saveLooksAWeek } from '../../services/store/audits.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { readWeekBoxes } from '../../services/store/evidence-week.ts'
import { readSpokenPhotos } from '../../services/store/evidence-words.ts'
import { readWeighedPhotos } from '../../services/store/weighed-photos.ts'
import { markCurve } from '../../services/tally/mark-evidence.ts'
import { atThreshold } from '../../services/tally/threshold-curve.ts'
import type { Instant } from '../../services/words.ts'
import {
  type AuditedStation,
  lookBlindly,
  MONDAY,
  openAuditedStation,
  PHOTOS,
  WEEK,
} from './audited-station.ts'
import { zone } from './small-station.ts'

let station: AuditedStation
beforeEach(async () => {
  station = await openAuditedStation()
})
afterEach(() => station?.close())

const say = (ids: readonly number[], at = MONDAY) =>
  recordChecks(station.ledger, {
    who: 'Ash',
    at,
    words: ids.map((stillId) => ({
      stillId,
      verdict: 'corrected' as const,
      counts: station.truthOf(stillId),
    })),
  })
const weighed = async () => await readWeighedPhotos(station.ledger, await readAuditWeeks(station.ledger, 8))
const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0)

describe('marks', () => {
  test('are told from photos that people chose while there is no whole week of looks, each for itself', async () => {
    await say(station.idsOf('right'))
    const { from, photos } = await weighed()
    expect([from, photos.length, sum(photos.map(({ weight }) => weight))]).toEqual(['checks', 20, 20])
    await drawWeek(station.ledger, { week: WEEK, now: MONDAY, seed: 'a seed' })
    await lookBlindly(station, 5)
    expect((await weighed()).from).toBe('checks')
  })

  test('are told from looks, those drawn for all there were, beside what was spoken of before the draw', async () => {
    const [before, after] = [station.idsOf('right').slice(0, 6), station.idsOf('right').slice(6)]
    await say(before)
    await drawWeek(station.ledger, { week: WEEK, now: MONDAY, seed: 'a seed' })
    await lookBlindly(station)
    const { from, photos } = await weighed()
    expect(from).toBe('looks')
    expect(sum(photos.map(({ weight }) => weight))).toBeCloseTo(PHOTOS, 9)
    expect(photos.filter(({ weight }) => weight === 1).length).toBeGreaterThanOrEqual(before.length)
    // What people choose to speak of later does not come on top of those that stand for it already.
    const { rows } = await sql<{ id: number }>`select still_id as id from audit_stills`.execute(
      station.ledger,
    )
    const drawn = new Set(rows.map(({ id }) => id))
    await say(
      after.filter((id) => !drawn.has(id)),
      (MONDAY + 60_000) as Instant,
    )
    expect(sum((await weighed()).photos.map(({ weight }) => weight))).toBeCloseTo(PHOTOS, 9)
  })

  test('come to the truth where every look was drawn', async () => {
    await saveLooksAWeek(station.ledger, 200)
    await drawWeek(station.ledger, { week: WEEK, now: MONDAY, seed: 'a seed' })
    await lookBlindly(station)
    const curve = markCurve((await weighed()).photos, 'camel')
    // 20 camels scored 0.9, 20 false flags scored 0.6, 20 camels without a box.
    expect(atThreshold(curve, 0.5)).toMatchObject({ flagged: 40, falseFlags: 20, missed: 20 })
    expect(atThreshold(curve, 0.7)).toMatchObject({ flagged: 20, falseFlags: 0, missed: 20, recall: 0.5 })
  })

  test('are held against every box of the week, and what is flagged without one of the species', async () => {
    const camel = await readWeekBoxes(station.ledger, { week: WEEK, zone, species: 'camel' })
    expect([camel.photos.length, camel.others]).toEqual([40, 0])
    const goat = await readWeekBoxes(station.ledger, { week: WEEK, zone, species: 'goat' })
    expect([goat.photos.length, goat.others]).toEqual([0, 40])
  })
})

describe('a version of the models', () => {
  test('is told on the photos it looked at, by the last word that stands', async () => {
    const [first, second, third] = station.idsOf('right')
    await say([first!, second!, third!])
    const other = { stillId: second!, verdict: 'corrected' as const, counts: { goat: 1 } }
    await recordChecks(station.ledger, { who: 'Ash', at: MONDAY, words: [other] })
    const back = { stillId: third!, verdict: 'withdrawn' as const }
    await recordChecks(station.ledger, { who: 'Ash', at: MONDAY, words: [back] })
    const [model, ...others] = await readSpokenPhotos(station.ledger)
    expect(others).toEqual([])
    expect(model?.photos.map(({ counts, blind }) => ({ counts, blind }))).toEqual([
      { counts: { camel: 1 }, blind: false },
      { counts: { goat: 1 }, blind: false },
    ])
  })

  test('that names with the station’s own names is not tried on the photos those were learned from', async () => {
    const [taught, unseen] = station.idsOf('right')
    const [check] = await say([taught!, unseen!])
    const { ledger } = station
    await sql`insert into namers (detector_sha256, namer_sha256, kinds, learned, weights, ridge, crops, seed, marks, trial,
        verdict, made_at) values ('d', 'n', '[]', '[]', '', 1, 1, 's', '{}', '{}', 'take', now())`.execute(
      ledger,
    )
    await sql`insert into models (name, version, detector_sha256, namer_sha256, station_namer)
      select name, version, detector_sha256, namer_sha256, 1 from models`.execute(ledger)
    await sql`update stills set model_id = (select id from models where station_namer = 1)
      where id in (${taught}, ${unseen})`.execute(ledger)
    await sql`insert into namer_crops (namer_id, detection_id, still_id, check_id, kind)
      values (1, 1, ${taught}, ${check!.id}, 'camel')`.execute(ledger)
    const [own] = await readSpokenPhotos(ledger)
    expect(own).toMatchObject({
      model: { station_namer: 1 },
      learnedFrom: 1,
      photos: [{ counts: { camel: 1 } }],
    })
  })
})
