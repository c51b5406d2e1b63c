/** Reads that must not grow with the years behind them, held against the plain way of answering. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { checkCardsOf } from '../../services/http/check-cards.ts'
import { parseInstant } from '../../services/station-time.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { recordHeartbeat } from '../../services/store/heartbeats.ts'
import { readSettings } from '../../services/store/settings.ts'
import { watchedAtPoints, watchedWithin } from '../../services/store/watched.ts'
import { unionOf, watchedSpells } from '../../services/tally/effort.ts'
import type { Instant, NightDate } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { openSmallStation, receive, record, type SmallStation } from './small-station.ts'

const NIGHT = '2026-07-01' as NightDate
const MINUTE_MS = 60_000
const HOUR_MS = 3_600_000
/** 20:00 of the night. */
const EVENING = parseInstant('2026-07-01T20:00:00+09:30')
const CARDS = 6
let station: SmallStation

const hoursAfter = (hours: number) => (EVENING + hours * HOUR_MS) as Instant

beforeAll(async () => {
  station = await openSmallStation()
  // Six cards of two photos an hour apart; the second to the last are unsure cattle, the others camels.
  for (let card = 0; card < CARDS; card += 1) {
    for (const minutes of [0, 10]) {
      const at = (hoursAfter(card) + minutes * MINUTE_MS) as Instant
      const id = await receive(station, { name: `${card} ${minutes}`, cameraId: station.cameraIds[1], at })
      const unsure = card === CARDS - 2
      await record(station, id, unsure ? { cattle: 1 } : { camel: card + 1 }, unsure ? 0.4 : 0.9)
    }
  }
})
afterAll(() => station.close())

const cards = async (limit: number) =>
  await checkCardsOf(station.ledger, { night: NIGHT, limit, settings: await readSettings(station.ledger) })

describe('the first cards of a night', () => {
  it('are the first of all its cards, feral before unsure and the latest first', async () => {
    const all = await cards(CARDS)
    expect(all.cards.map(({ why, peaks }) => [why, peaks.camel])).toEqual([
      ['feral', 6],
      ['feral', 4],
      ['feral', 3],
      ['feral', 2],
      ['feral', 1],
      ['unsure', undefined],
    ])
    expect((await cards(2)).cards).toEqual(all.cards.slice(0, 2))
  })

  it('come with what waits in the whole night', async () => {
    const { cards: shown, ...counts } = await cards(2)
    expect(shown).toHaveLength(2)
    expect(counts).toEqual({ night: NIGHT, waiting: CARDS, checked: 0 })
  })

  it('leave a card that is checked in its place, and count it', async () => {
    const [first] = (await cards(1)).cards
    const words = first!.stills.map(({ id }) => ({ stillId: id, verdict: 'agreed' as const }))
    await recordChecks(station.ledger, { words, who: 'station', at: hoursAfter(12) })
    const after = await cards(1)
    expect(after).toMatchObject({
      waiting: CARDS - 1,
      checked: 1,
      cards: [{ key: first!.key, checked: true }],
    })
  })

  it('take a box exactly at the worth-a-look mark as worth a look', async () => {
    const id = await receive(station, {
      name: 'at the mark',
      cameraId: station.cameraIds[1],
      at: hoursAfter(8),
    })
    // A four-byte 0.35 is a little less than 0.35 (IEEE 754): compared as it is kept it would fall under the mark.
    await record(station, id, { goat: 1 }, 0.35)
    expect((await cards(1)).cards).toMatchObject([{ why: 'feral', stills: [{ id, flagged: true }] }])
  })
})

describe('when a point was watched', () => {
  it('is the same from the first and last contacts of a stretch as from all contacts', async () => {
    // Hours from the evening: steady, then 26 h to the minute, then more, then two close ones and a lone one.
    const beats = [0, 0.5, 1, 2, 9, 25.9, 26, 52, 79, 79.25, 140].map(hoursAfter)
    for (const at of beats) {
      await recordHeartbeat(station.ledger, {
        cameraId: station.cameraIds[0],
        pointId: station.pointId,
        at,
        receivedAt: at,
        batteryPercent: null,
        temperatureC: null,
        signalPercent: null,
        freeBytes: null,
      })
    }
    const deployments = [{ from: null, to: null }]
    const byHeartbeats = watchedSpells({
      contacts: beats,
      deployments,
      expectedSilenceHours: 26,
      sendsHeartbeats: true,
    })
    const byPhotos = watchedSpells({
      contacts: [EVENING, hoursAfter(8)],
      deployments,
      expectedSilenceHours: 26,
      sendsHeartbeats: false,
    })
    const whole = { from: hoursAfter(-48), to: hoursAfter(200) }
    const watched = await watchedWithin(station.ledger, station.pointId, whole)
    expect(watched).toEqual(unionOf([...byHeartbeats, ...byPhotos]))
    expect(watched).toEqual([
      { from: hoursAfter(0), to: hoursAfter(52) },
      { from: hoursAfter(79), to: hoursAfter(79.25) },
    ])
    const part = { from: hoursAfter(30), to: hoursAfter(40) }
    expect(await watchedAtPoints(station.ledger, [station.pointId, 999], part)).toEqual(
      new Map([
        [station.pointId, [part]],
        [999, []],
      ]),
    )
  })

  it('and every count is what a count from nothing gives', async () => {
    expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))
  })
})
