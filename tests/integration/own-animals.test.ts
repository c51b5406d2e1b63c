/** The station's own namer in the ledger: learned from words, tried, used, turned off; nobody's word and no count is lost. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { startLearning } from '../../services/queue/learning.ts'
import { openRecording, type RecordLook } from '../../services/queue/process-still.ts'
import { parseInstant } from '../../services/station-time.ts'
import { recordAsking } from '../../services/store/askings.ts'
import { listLabelledCrops } from '../../services/store/checked-crops.ts'
import { recordChecks } from '../../services/store/checks.ts'
import { turnNamer } from '../../services/store/namer-change.ts'
import { presentModels, readNamer } from '../../services/store/namer-in-use.ts'
import { findNamer, listNamers, readNamerSettings } from '../../services/store/namers.ts'
import { addOwnKind } from '../../services/store/own-kinds.ts'
import { countForRerun, listReruns, startRerun } from '../../services/store/reruns.ts'
import { readSettings } from '../../services/store/settings.ts'
import { findWaiting, findWaitingLook } from '../../services/store/waiting.ts'
import type { Instant, NightDate, Tally } from '../../services/words.ts'
import { type InventedAnimals, inventedAnimals } from './invented-animals.ts'
import { keptAggregates, recountFromNothing } from './recount.ts'
import { models, openSmallStation, receive, type SmallStation } from './small-station.ts'

const FIRST_NIGHT = parseInstant('2026-09-01T20:00:00+09:30')
const NOW = parseInstant('2026-10-20T08:00:00+10:30')
const MINUTE_MS = 60_000
const NIGHT_MS = 86_400_000
const NIGHTS = 16
const NAMES_OF_ALL_NIGHTS = {
  fromNight: '2026-08-01' as NightDate,
  toNight: '2026-10-31' as NightDate,
  pointIds: null,
  cameraIds: null,
  unreadableToo: false,
  namesOnly: true,
}

let station: SmallStation
let animals: InventedAnimals
let recordLook: RecordLook
let photos = 0
beforeEach(async () => {
  station = await openSmallStation()
  animals = inventedAnimals(5)
  recordLook = openRecording(station.ledger)
})
afterEach(async () => {
  await station.close()
})

const at = (night: number, minutes: number) =>
  (FIRST_NIGHT + night * NIGHT_MS + minutes * MINUTE_MS) as Instant

async function photo(
  when: Instant,
  kinds: readonly string[],
  cameraId = station.cameraIds[0],
): Promise<number> {
  const id = await receive(station, { name: `photo ${++photos}`, cameraId, at: when })
  await recordLook({ stillId: id, urgency: 'today' }, animals.look(kinds, models))
  return id
}

const say = (stillId: number, counts: Tally, others?: Record<string, number>) =>
  recordChecks(station.ledger, {
    who: 'station',
    at: NOW,
    words: [{ stillId, verdict: 'corrected', counts, ...(others && { others }) }],
  })

/** Nights with camels, horses and goats, each photo spoken of. */
async function checkedNights(nights = NIGHTS): Promise<void> {
  for (let night = 0; night < nights; night++)
    for (const [place, kind] of (['camel', 'horse', 'goat'] as const).entries())
      await say(await photo(at(night, 40 * place), [kind, kind]), { [kind]: 2 })
}

async function learn(): Promise<void> {
  const learning = startLearning(station.ledger, {
    models,
    now: () => NOW,
    log: () => undefined,
    afterWordsMs: 1,
  })
  await learning.settled()
  await learning.stop()
}

const boxesOf = (stillId: number) =>
  station.ledger.selectFrom('detections').selectAll().where('still_id', '=', stillId).orderBy('id').execute()
const headOf = async (stillId: number) =>
  Object.fromEntries(
    (
      await station.ledger
        .selectFrom('sightings')
        .select(['species', 'head'])
        .where('still_id', '=', stillId)
        .execute()
    ).map(({ species, head }) => [species, head]),
  )
const namerOf = async (stillId: number) =>
  (
    await station.ledger
      .selectFrom('stills')
      .innerJoin('models', 'models.id', 'stills.model_id')
      .select('station_namer')
      .where('stills.id', '=', stillId)
      .executeTakeFirstOrThrow()
  ).station_namer

/** Goes through the re-run under way as a queue does; gives the photos for which an eye would be asked. */
async function goThrough(): Promise<number[]> {
  const toLookAt: number[] = []
  for (;;) {
    const waiting = await findWaiting(station.ledger, { limit: 50, except: toLookAt })
    if (waiting.length === 0) return toLookAt
    for (const { stillId } of waiting)
      if ((await findWaitingLook(station.ledger, stillId)) !== null) toLookAt.push(stillId)
  }
}

const startNames = async () =>
  startRerun(station.ledger, NAMES_OF_ALL_NIGHTS, {
    models: await presentModels(station.ledger, models),
    now: NOW,
  })
const expectCountsOfNothing = async () =>
  expect(await keptAggregates(station.ledger)).toEqual(await recountFromNothing(station.ledger))

describe('the station’s own namer', () => {
  it('is learned, tried and used once there are enough words, and says what it learned from', async () => {
    await checkedNights()
    await learn()
    const [namer] = await listNamers(station.ledger)
    expect(namer).toMatchObject({ verdict: 'take', crops: NIGHTS * 6 })
    expect(namer!.trial).toMatchObject({ baseWrong: NIGHTS * 2, stationWrong: 0, nightCameras: NIGHTS })
    expect(await readNamerSettings(station.ledger)).toMatchObject({
      isOn: true,
      takesNew: true,
      inUse: namer!.id,
    })
    const { crops } = await findNamer(station.ledger, namer!.id)
    expect(crops).toHaveLength(NIGHTS * 6)
    expect(crops.filter(({ kind }) => kind === 'camel')).toHaveLength(NIGHTS * 2)
  })

  it('names what comes in, with the models’ own names kept beside its own', async () => {
    await checkedNights()
    const before = await photo(at(20, 0), ['camel'])
    await learn()
    const after = await photo(at(21, 0), ['camel'])
    expect([await headOf(before), await headOf(after)]).toEqual([{ horse: 1 }, { camel: 1 }])
    const [box] = await boxesOf(after)
    const [old] = await boxesOf(before)
    expect(box!.base_namer).toEqual(old!.namer)
    expect([await namerOf(before), await namerOf(after)]).toEqual([
      null,
      (await listNamers(station.ledger))[0]!.id,
    ])
    await expectCountsOfNothing()
  })

  it('is told of in what a person had before them when they spoke', async () => {
    await checkedNights()
    await learn()
    const id = await photo(at(20, 0), ['camel'])
    await say(id, { camel: 1 })
    const seen = await station.ledger
      .selectFrom('checks')
      .select('seen')
      .where('still_id', '=', id)
      .executeTakeFirstOrThrow()
    expect(seen.seen).toMatchObject({ models: { ...models, stationNamer: 1 }, tally: { camel: 1 } })
  })

  it('leaves what it has no embedding of to the models', async () => {
    await checkedNights()
    await learn()
    const { found, ...seen } = animals.look(['camel'], models)
    const id = await receive(station, { name: 'alone', cameraId: station.cameraIds[0], at: at(22, 0) })
    const alone = found.map((one) => ({ ...one, namer: null, embedding: null }))
    await recordLook({ stillId: id, urgency: 'today' }, { ...seen, found: alone })
    expect((await boxesOf(id))[0]).toMatchObject({ namer: null, base_namer: null })
  })

  it('names old photos anew from what is kept, without an eye, and no word of a person', async () => {
    await checkedNights()
    const old = await photo(at(20, 0), ['camel', 'camel'])
    const said = await photo(at(20, 60), ['camel'])
    await say(said, { donkey: 1 })
    // Sure cattle are not flagged, so nothing is kept to name them from.
    const cattle = await photo(at(20, 120), ['cattle'])
    await learn()
    expect(
      (await countForRerun(station.ledger, NAMES_OF_ALL_NIGHTS, await presentModels(station.ledger, models)))
        .stills,
    ).toBe(NIGHTS * 3 + 2)
    await startNames()
    expect(await goThrough()).toEqual([])
    expect(await headOf(old)).toEqual({ camel: 2 })
    expect(await headOf(said)).toEqual({ donkey: 1 })
    expect([await namerOf(old), await namerOf(cattle)]).toEqual([
      (await listNamers(station.ledger))[0]!.id,
      null,
    ])
    const [rerun] = await listReruns(station.ledger)
    expect(rerun).toMatchObject({ state: 'done', done: NIGHTS * 3 + 2, failed: 0, names_only: true })
    await expectCountsOfNothing()
  })

  it('gives the models’ names back when it is turned off, and its own again when it is turned on', async () => {
    await checkedNights()
    const old = await photo(at(20, 0), ['camel'])
    const before = await boxesOf(old)
    await learn()
    await startNames()
    await goThrough()
    const fresh = await photo(at(21, 0), ['camel'])
    const named = await boxesOf(old)
    expect(await headOf(old)).toEqual({ camel: 1 })

    await turnNamer(station.ledger, { isOn: false }, { models, now: NOW })
    expect(await goThrough()).toEqual([])
    expect(await headOf(old)).toEqual({ horse: 1 })
    expect(await headOf(fresh)).toEqual({ horse: 1 })
    const back = (await boxesOf(old))[0]!
    expect(back).toMatchObject({ namer: before[0]!.namer, base_namer: null, species: 'horse' })
    expect(back.score).toBeCloseTo(before[0]!.score, 6)
    expect(await namerOf(await photo(at(22, 0), ['camel']))).toBeNull()
    await expectCountsOfNothing()

    await turnNamer(station.ledger, { isOn: true }, { models, now: NOW })
    await startNames()
    await goThrough()
    expect(await boxesOf(old)).toEqual(named)
    expect(await namerOf(await photo(at(23, 0), ['camel']))).not.toBeNull()
    await expectCountsOfNothing()
  })

  it('is not asked again before there are twice as many words', async () => {
    await checkedNights()
    await learn()
    await say(await photo(at(25, 0), ['camel']), { camel: 1 })
    await learn()
    expect(await listNamers(station.ledger)).toHaveLength(1)
    for (let night = 30; night < 30 + NIGHTS; night++)
      for (const kind of ['camel', 'horse', 'goat'] as const)
        await say(await photo(at(night, kind.length * 40), [kind, kind]), { [kind]: 2 })
    await learn()
    expect((await listNamers(station.ledger)).map(({ crops }) => crops)).toEqual([
      NIGHTS * 12 + 1,
      NIGHTS * 6,
    ])
  })

  it('goes out of use when twice the words say that it spoils a species', async () => {
    await checkedNights()
    await learn()
    const [namer] = await listNamers(station.ledger)
    const { namer: learned } = await readNamer(station.ledger, namer!.id)
    const asking = {
      models,
      namer: learned,
      trial: { ...namer!.trial, verdict: 'worse for a species' },
      labels: [],
      crops: NIGHTS * 12,
      seed: 'later',
      after: namer!.id,
      marks: namer!.marks,
      at: NOW,
    } as const
    const later = await recordAsking(station.ledger, asking)
    expect(later).not.toBeNull()
    expect((await readNamerSettings(station.ledger)).inUse).toBeNull()
    expect(await headOf(await photo(at(20, 0), ['camel']))).toEqual({ horse: 1 })
    // Another service that asked at the same time comes too late.
    expect(await recordAsking(station.ledger, asking)).toBeNull()
  })

  it('that is stopped while it learns leaves nothing, and is learned at the next start', async () => {
    await checkedNights()
    const log: string[] = []
    const learning = startLearning(station.ledger, {
      models,
      now: () => NOW,
      log: (line) => log.push(line),
      afterWordsMs: 1,
    })
    await expect.poll(() => learning.isAtWork(), { interval: 1, timeout: 20_000 }).toBe(true)
    await learning.stop()
    expect(await listNamers(station.ledger)).toEqual([])
    expect(log).toEqual([])
    await learn()
    expect(await listNamers(station.ledger)).toHaveLength(1)
  })

  it('waits for the owner where new ones are not to be used by themselves', async () => {
    await turnNamer(station.ledger, { takesNew: false }, { models, now: NOW })
    await checkedNights()
    await learn()
    const [namer] = await listNamers(station.ledger)
    expect((await readNamerSettings(station.ledger)).inUse).toBeNull()
    expect(await headOf(await photo(at(20, 0), ['camel']))).toEqual({ horse: 1 })
    await turnNamer(station.ledger, { use: namer!.id }, { models, now: NOW })
    expect(await headOf(await photo(at(21, 0), ['camel']))).toEqual({ camel: 1 })
  })

  it('is not used where it names no better, nor by hand', async () => {
    for (let night = 0; night < NIGHTS; night++)
      for (const kind of ['horse', 'goat', 'donkey'] as const)
        await say(await photo(at(night, kind.length * 40), [kind, kind]), { [kind]: 2 })
    await learn()
    const [namer] = await listNamers(station.ledger)
    expect(namer!.verdict).toBe('no better than chance')
    await expect(turnNamer(station.ledger, { use: namer!.id }, { models, now: NOW })).rejects.toThrow(
      'did not name better',
    )
    expect(await presentModels(station.ledger, models)).toEqual(models)
  })

  it('says a kind of the owner’s own, which is never counted', async () => {
    await addOwnKind(station.ledger, 'Sheep', NOW)
    await checkedNights()
    for (let night = 0; night < NIGHTS; night++)
      await say(await photo(at(night, 200), ['sheep', 'sheep']), {}, { sheep: 2 })
    await learn()
    const sheep = await photo(at(20, 0), ['sheep'])
    expect(await headOf(sheep)).toEqual({})
    expect((await boxesOf(sheep))[0]!.own_kind).toBe('sheep')
    // Named as sheep, the same photos teach as much as before.
    const taught = async () => {
      const { thresholds: marks } = await readSettings(station.ledger)
      const labelled = await listLabelledCrops(station.ledger, { models, marks, ownKinds: ['sheep'] })
      return labelled.filter(({ kind }) => kind === 'sheep').length
    }
    expect(await taught()).toBe(NIGHTS * 2)
    await startNames()
    await goThrough()
    expect(await taught()).toBe(NIGHTS * 2)
    const goat = await photo(at(20, 60), ['goat'])
    expect(await headOf(goat)).toEqual({ goat: 1 })
    expect((await boxesOf(goat))[0]!.own_kind).toBeNull()
  })

  it('does not name what other models found', async () => {
    await checkedNights()
    await learn()
    const id = await receive(station, { name: 'newer', cameraId: station.cameraIds[0], at: at(20, 0) })
    const newer = { ...models, namerSha256: 'm'.repeat(64) }
    await recordLook({ stillId: id, urgency: 'today' }, animals.look(['camel'], newer))
    expect(await headOf(id)).toEqual({ horse: 1 })
    expect(await namerOf(id)).toBeNull()
    expect(await presentModels(station.ledger, newer)).toEqual(newer)
  })
})
