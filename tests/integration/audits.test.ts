/** The week's blind looks on a made-up station: drawn once, kept, blind, and told together with what they are worth. */
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'kysely'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { recordAgain } from '../../services/store/again.ts'
import { readAuditWeeks } from '../../services/store/audit-evidence.ts'
import { listAudits, listOpenLooks, recordLookWords } from '../../services/store/audit-looks.ts'
import { drawWeek, saveLooksAWeek } from '../../services/store/audits.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { saveKeepingRule } from '../../services/store/keeping.ts'
import { recountNext, recountStation } from '../../services/store/recount.ts'
import { askForRecount } from '../../services/store/recount-asked.ts'
import { startRerun } from '../../services/store/reruns.ts'
import { runRetention } from '../../services/store/retention.ts'
import { readSettings, saveSettings } from '../../services/store/settings.ts'
import { openStillFolder } from '../../services/store/still-folder.ts'
import { foundShare, missedShare, rightShare } from '../../services/tally/audit-evidence.ts'
import { binomialInterval } from '../../services/tally/binomial-interval.ts'
import { correctedCount } from '../../services/tally/corrected-counts.ts'
import { startWeeklyDraw } from '../../services/weekly-draw.ts'
import type { Instant } from '../../services/words.ts'
import {
  type AuditedStation,
  lookBlindly,
  MONDAY,
  openAuditedStation,
  PHOTOS,
  WEEK,
} from './audited-station.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { models } from './small-station.ts'

const HOUR_MS = 3_600_000
const SEED = 'a seed'

let station: AuditedStation
let folder: string
beforeEach(async () => {
  station = await openAuditedStation()
  folder = await mkdtemp(join(tmpdir(), 'hooftally-audits-'))
})
afterEach(async () => {
  await station?.close()
  await rm(folder, { recursive: true, force: true })
})

const draw = (seed = SEED) => drawWeek(station.ledger, { week: WEEK, now: MONDAY, seed })
const agree = (ids: readonly number[]) =>
  recordChecks(station.ledger, {
    who: 'Ash',
    at: MONDAY,
    words: ids.map((stillId) => ({
      stillId,
      verdict: 'corrected' as const,
      counts: station.truthOf(stillId),
    })),
  })
const evidence = () => readAuditWeeks(station.ledger, 8)

/** All that a draw wrote down, without the numbers of its rows. */
async function drawn() {
  const { rows } =
    await sql<object>`select l.side, l.stratum, l.species, l.camera_id, l.light, l.chance, l.place, l.machine,
      (select array_agg(t.still_id order by t.still_id) from audit_stills t where t.look_id = l.id) as stills
    from audit_looks l order by l.place`.execute(station.ledger)
  const strata = await sql<object>`select side, stratum, species, camera_id, light, looks from audit_strata
    order by side, stratum, species, camera_id, light`.execute(station.ledger)
  const counts =
    await sql<object>`select point_id, species, visits, head, known_visits, known_head from audit_counts
    order by point_id, species`.execute(station.ledger)
  return { looks: rows, strata: strata.rows, counts: counts.rows }
}

describe('the draw', () => {
  test('is made once a week, whoever asks, and however many ask at once', async () => {
    const made = await Promise.all([draw('one'), draw('two'), draw('three')])
    expect(made.map(({ kind }) => kind).sort()).toEqual(['already', 'already', 'drawn'])
    expect(await draw('four')).toEqual({ kind: 'already' })
    expect(await listAudits(station.ledger, 10)).toHaveLength(1)
  })

  test('is the same again with the same seed, and another with another', async () => {
    await draw()
    const first = await drawn()
    const again = async (seed: string) => {
      await sql`delete from audits`.execute(station.ledger)
      await draw(seed)
      return await drawn()
    }
    expect(await again(SEED)).toEqual(first)
    expect(await again('another')).not.toEqual(first)
  })

  test('takes as many as asked for of each side, two or more of a stratum, and knows the chance of each', async () => {
    await draw()
    const looks = await station.ledger.selectFrom('audit_looks').selectAll().execute()
    const strata = await station.ledger.selectFrom('audit_strata').selectAll().execute()
    // 40 looks are flagged, all the others are not.
    for (const [side, there] of [
      ['flagged', 40],
      ['not flagged', PHOTOS - 40],
    ] as const) {
      const ofSide = looks.filter((look) => look.side === side)
      expect(ofSide).toHaveLength(20)
      expect(ofSide.reduce((sum, { chance }) => sum + 1 / chance, 0)).toBeCloseTo(there, 9)
      for (const name of new Set(strata.filter((one) => one.side === side).map(({ stratum }) => stratum))) {
        const inStratum = ofSide.filter(({ stratum }) => stratum === name)
        const size = strata
          .filter((one) => one.side === side && one.stratum === name)
          .reduce((sum, one) => sum + one.looks, 0)
        expect(inStratum.length).toBeGreaterThanOrEqual(Math.min(2, size))
        for (const { chance } of inStratum) expect(chance).toBeCloseTo(inStratum.length / size, 12)
      }
    }
  })

  test('leaves out what people had looked at, and what can’t be shown any more', async () => {
    const [chosen, ...others] = station.idsOf('right')
    const gone = station.idsOf('empty').slice(0, 3)
    await agree([chosen!])
    await sql`update stills set kept = 'none' where id = any(${gone}::bigint[])`.execute(station.ledger)
    await saveLooksAWeek(station.ledger, 200)
    await draw()
    const { rows } = await sql<{ still_id: number }>`select still_id from audit_stills`.execute(
      station.ledger,
    )
    const ids = new Set(rows.map(({ still_id }) => still_id))
    expect([chosen!, ...gone].filter((id) => ids.has(id))).toEqual([])
    expect(others.every((id) => ids.has(id))).toBe(true)
    expect((await listAudits(station.ledger, 1))[0]).toMatchObject({
      could_not_be_drawn: 3,
      looks: PHOTOS - 4,
    })
  })

  test('stands when newer models look at the photos again', async () => {
    await draw()
    const before = await drawn()
    const newer = { ...models, version: '2' }
    const range = { fromNight: WEEK.from, toNight: WEEK.to, pointIds: null, cameraIds: null }
    await startRerun(station.ledger, { ...range, unreadableToo: false }, { models: newer, now: MONDAY })
    // The newer models find nothing anywhere, so that no photo is flagged any more.
    for (const id of station.kinds.keys()) {
      const result = { kind: 'seen' as const, width: 640, height: 360, found: [], models: newer }
      expect(await recordAgain(station.ledger, id, result)).toBe('recorded')
    }
    expect(await draw('later')).toEqual({ kind: 'already' })
    expect(await drawn()).toEqual(before)
  })

  test('stands whatever comes after it: a word, new marks, a recount', async () => {
    await draw()
    const before = await drawn()
    await agree(station.idsOf('false flag'))
    const settings = await readSettings(station.ledger)
    await saveSettings(
      station.ledger,
      { ...settings, species: [{ species: 'camel', countThreshold: 0.95, flagThreshold: 0.95 }] },
      { count: 0.5, flag: 0.35 },
    )
    await recountStation(station.ledger)
    expect(await draw('later')).toEqual({ kind: 'already' })
    expect(await drawn()).toEqual(before)
  })

  test('keeps the photos that are drawn, whatever becomes of the others', async () => {
    await draw()
    await saveKeepingRule(station.ledger, { empties: 'drop', afterDays: 1 })
    const files = await openStillFolder(folder)
    await runRetention({ ledger: station.ledger, files, now: (MONDAY + 90 * 24 * HOUR_MS) as Instant })
    const { rows } = await sql<{ drawn: boolean; kept: string; photos: number }>`
      select exists (select from audit_stills t where t.still_id = s.id) as drawn, kept, count(*)::int as photos
      from stills s where id = any(${station.idsOf('empty')}::bigint[]) group by 1, 2 order by 1`.execute(
      station.ledger,
    )
    expect(rows.map(({ drawn: isDrawn, kept }) => [isDrawn, kept])).toEqual([
      [false, 'none'],
      [true, 'whole'],
    ])
  })

  test('waits for photos that are not read yet, and not for ever', async () => {
    await sql`update stills set state = 'received' where id = ${station.idsOf('empty')[0]!}`.execute(
      station.ledger,
    )
    expect(await draw()).toEqual({ kind: 'not yet' })
    const late = await drawWeek(station.ledger, { week: WEEK, now: MONDAY, seed: SEED, late: true })
    expect(late.kind).toBe('drawn')
  })

  test('waits while photos are being counted again: what is flagged would be neither by the old marks nor by the new', async () => {
    await station.ledger.transaction().execute(askForRecount)
    expect(await draw()).toEqual({ kind: 'not yet' })
    while (await recountNext(station.ledger)) {
      // Batch after batch.
    }
    expect((await draw()).kind).toBe('drawn')
  })

  test('comes by itself once the week is over, and once only', async () => {
    const lines: string[] = []
    let now = (MONDAY - 3 * HOUR_MS) as Instant
    const daily = startWeeklyDraw({ ledger: station.ledger, now: () => now, log: (line) => lines.push(line) })
    await daily.wake()
    expect(lines).toEqual([])
    now = MONDAY
    await daily.wake()
    await daily.wake()
    await daily.stop()
    expect(lines).toEqual([`blind looks: 40 drawn for the week of ${WEEK.from}`])
  })
})

describe('a word on a blind look', () => {
  test('is an ordinary check as well: what stands follows it, and equals a recount from nothing', async () => {
    await draw()
    await lookBlindly(station)
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
    const { rows } = await sql<{
      checks: number
      words: number
    }>`select (select count(*)::int from checks) as checks,
      (select count(*)::int from audit_words) as words`.execute(station.ledger)
    expect(rows[0]).toEqual({ checks: 40, words: 40 })
  })

  test('is for the whole look, or it is refused and nothing is written', async () => {
    await draw()
    const [look] = (await listOpenLooks(station.ledger, 1)).looks
    const wrong = { stillId: station.idsOf('cattle')[0]!, counts: {} }
    const words = look!.photos.map(({ id }) => ({ stillId: id, counts: {} }))
    await expect(
      recordLookWords(station.ledger, { lookId: look!.id, words: [...words, wrong], who: 'Ash', at: MONDAY }),
    ).rejects.toMatchObject({ field: 'words' })
    expect(await station.ledger.selectFrom('checks').selectAll().execute()).toEqual([])
  })

  test('that is taken back leaves the look open again', async () => {
    await draw()
    const before = await listOpenLooks(station.ledger, 1)
    const [look] = before.looks
    const say = (counts: { camel: number } | null) =>
      recordLookWords(station.ledger, {
        lookId: look!.id,
        words: look!.photos.map(({ id }) => ({ stillId: id, counts })),
        who: 'Ash',
        at: MONDAY,
      })
    await say({ camel: 1 })
    expect((await listOpenLooks(station.ledger, 1)).open).toBe(before.open - 1)
    await say(null)
    expect(await listOpenLooks(station.ledger, 1)).toEqual(before)
  })
})

describe('what the looks say together', () => {
  test('is nothing while nobody has looked, and says how many looks would do', async () => {
    await draw()
    const weeks = await evidence()
    expect(rightShare(weeks, ['camel'])).toMatchObject({ kind: 'not enough checked to say', drawn: 0 })
    expect(missedShare(weeks, { of: ['camel'], known: 'camel' })).toMatchObject({
      kind: 'not enough checked to say',
    })
    expect(foundShare(weeks, 'camel')).toBeNull()
    const { corrected } = correctedCount(weeks, { species: 'camel', what: 'visits' })
    expect(corrected).toMatchObject({ kind: 'not enough checked to say' })
    await lookBlindly(station, 3)
    expect(rightShare(await evidence(), ['camel']).kind).toBe('not enough checked to say')
  })

  test('is the truth where every look was drawn', async () => {
    await saveLooksAWeek(station.ledger, 200)
    await draw()
    await lookBlindly(station)
    const weeks = await evidence()
    // Of 40 flagged 20 are camels; of 120 others 20 hold camels; 20 of those 40 with camels were flagged.
    expect(rightShare(weeks, ['camel'])).toMatchObject({ kind: 'said', ...binomialInterval(20, 40) })
    expect(missedShare(weeks, { of: ['camel'], known: 'camel' })).toMatchObject({ share: 20 / 120 })
    expect(foundShare(weeks, 'camel')?.share).toBeCloseTo(0.5, 12)
    // The machine has 40 visits of one camel each; there were 20 of one and 20 of two.
    expect(correctedCount(weeks, { species: 'camel', what: 'visits' })).toEqual({
      seen: 40,
      corrected: { kind: 'corrected', total: 40, low: 40, high: 40, variance: 0 },
    })
    expect(correctedCount(weeks, { species: 'camel', what: 'head' })).toMatchObject({
      seen: 40,
      corrected: { total: 60, low: 60, high: 60 },
    })
    expect(correctedCount(weeks, { species: 'cattle', what: 'head' })).toMatchObject({
      seen: 40,
      corrected: { total: 40 },
    })
  })

  test('covers the truth where some were drawn', async () => {
    await saveLooksAWeek(station.ledger, 30)
    await draw()
    await lookBlindly(station)
    const weeks = await evidence()
    const right = rightShare(weeks, ['camel'])
    const missed = missedShare(weeks, { of: ['camel'], known: 'camel' })
    const head = correctedCount(weeks, { species: 'camel', what: 'head' }).corrected
    if (right.kind !== 'said' || missed.kind !== 'said' || head.kind !== 'corrected')
      throw new Error('thirty looks of each side are enough to say')
    expect(right.low < 0.5 && 0.5 < right.high).toBe(true)
    expect(missed.low < 20 / 120 && 20 / 120 < missed.high).toBe(true)
    expect(head.low < 60 && 60 < head.high).toBe(true)
    expect(head.low).toBeLessThan(head.high)
  })

  test('is not moved by checks that people choose after the draw', async () => {
    await draw()
    await lookBlindly(station)
    const before = await evidence()
    const { rows } = await sql<{ id: number }>`select still_id as id from audit_stills`.execute(
      station.ledger,
    )
    const drawnIds = new Set(rows.map(({ id }) => id))
    // Somebody agrees with what is right, and leaves the false flags alone.
    await agree(station.idsOf('right').filter((id) => !drawnIds.has(id)))
    expect(await evidence()).toEqual(before)
  })

  test('lets checks that people chose before the draw stand for themselves alone', async () => {
    // All that is right has been agreed with: of what was left every flag is false, and of all flags still a half.
    await agree(station.idsOf('right'))
    await saveLooksAWeek(station.ledger, 200)
    await draw()
    await lookBlindly(station)
    const weeks = await evidence()
    expect(rightShare(weeks, ['camel'])).toMatchObject({ kind: 'said', share: 0.5, drawn: 20, before: 20 })
    expect(correctedCount(weeks, { species: 'camel', what: 'head' })).toMatchObject({
      seen: 40,
      corrected: { total: 60 },
    })
  })

  test('stays blind: a later word on a drawn photo changes the counts, and not what the look says', async () => {
    await draw()
    await lookBlindly(station)
    const before = await evidence()
    const { rows } = await sql<{ id: number }>`select still_id as id from audit_stills`.execute(
      station.ledger,
    )
    await recordChecks(station.ledger, {
      who: 'Ash',
      at: MONDAY,
      words: rows.map(({ id }) => ({ stillId: id, verdict: 'agreed' })),
    })
    expect(await evidence()).toEqual(before)
  })
})
