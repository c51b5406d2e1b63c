/** What the bench asks of a ledger: the reads behind the screens and the one write behind every photo, as the service does them. */
import { createHash } from 'node:crypto'
import { type Random, randomFor } from '../../../services/demo/random.ts'
import { cameraOf, pointOf, stateOf, stillOf, visitOf } from '../../../services/http/answers.ts'
import { checkCardsOf } from '../../../services/http/check-cards.ts'
import { filmStrip } from '../../../services/http/film-strip.ts'
import { nightsOfPoint } from '../../../services/http/point-nights.ts'
import { nightsAsked, pressureOf } from '../../../services/http/pressure-answer.ts'
import { waterRunRowsOf } from '../../../services/http/water-run-row.ts'
import { listCameras } from '../../../services/store/cameras.ts'
import type { Ledger } from '../../../services/store/open.ts'
import { listPointStates } from '../../../services/store/point-states.ts'
import { findPoint } from '../../../services/store/points.ts'
import { readPressureFacts } from '../../../services/store/pressure.ts'
import { readProgress } from '../../../services/store/progress.ts'
import { recordResult } from '../../../services/store/results.ts'
import { readSettings } from '../../../services/store/settings.ts'
import { listStills } from '../../../services/store/still-views.ts'
import { listVisits } from '../../../services/store/visit-views.ts'
import { readWaterRun } from '../../../services/store/water-run.ts'
import { nightSpell } from '../../../services/tally/nights.ts'
import { type WeekOfNights, weekOf } from '../../../services/tally/weeks.ts'
import type { Instant, NightDate } from '../../../services/words.ts'
import type { HistoryPlan } from './history.ts'
import { lookQuestions } from './look-questions.ts'

const DRAWS = 200
const STATES_SHOWN = 20
const NIGHTS_SHOWN = 28
const PHOTOS_A_PAGE = 24
const CARDS_A_PAGE = 20
const VISITS_A_NIGHT = 200
const MS_PER_HOUR = 3_600_000
const MS_PER_DAY = 86_400_000
const EMBEDDING_LENGTH = 1280

export interface Question {
  readonly name: string
  /** True when asking changes the ledger, so that each asking needs preparing. */
  readonly changes: boolean
  /** The drawn asks, each of another point, night, week or camera; what they need is put into the ledger first. */
  prepare(ledger: Ledger): Promise<ReadonlyArray<(ledger: Ledger) => Promise<unknown>>>
}

/** Half an hour after the last night of the history. */
export function nowOf(plan: HistoryPlan): Instant {
  return (nightSpell(plan.nights.at(-1)!, plan.zone).to + MS_PER_HOUR / 2) as Instant
}

export function questionsOf(plan: HistoryPlan, drawSeed: number): readonly Question[] {
  const now = nowOf(plan)
  const drawnNights = (name: string) => randomFor(drawSeed, name).sample(plan.nights, DRAWS)
  const weeks = new Map(plan.nights.map((night) => [weekOf(night).from, weekOf(night)]))
  const drawnWeeks = (name: string) => randomFor(drawSeed, name).sample([...weeks.values()], DRAWS)
  return [
    {
      name: 'water run',
      changes: false,
      prepare: async () =>
        drawnNights('water run').map((night) => async (ledger) => await waterRun(ledger, { night, now })),
    },
    {
      name: "a week's pressure data",
      changes: false,
      prepare: async () =>
        drawnWeeks('pressure data').map((week) => async (ledger) => await weekFacts(ledger, { week, now })),
    },
    {
      // With the seven weeks before it, which it is compared with.
      name: "the week's report",
      changes: false,
      prepare: async () =>
        drawnWeeks('weeks').map((week) => async (ledger) => await pressureOf(ledger, { week, now })),
    },
    {
      name: "a point's page",
      changes: false,
      prepare: async (ledger) => {
        const random = randomFor(drawSeed, 'points')
        const nights = random.sample(plan.nights.slice(NIGHTS_SHOWN), DRAWS)
        return random.sample(await pointIds(ledger), DRAWS).map((pointId, index) => {
          const night = nights[index % nights.length]!
          return async (asked: Ledger) => await pointPage(asked, { pointId, night, now, plan })
        })
      },
    },
    {
      name: 'photos to check',
      changes: false,
      prepare: async () =>
        drawnNights('checks').map((night) => async (ledger) => {
          await checkCardsOf(ledger, { night, limit: CARDS_A_PAGE, settings: await readSettings(ledger) })
        }),
    },
    {
      name: "the night's other visits",
      changes: false,
      prepare: async () =>
        drawnNights('other visits').map((night) => async (ledger) => {
          const settings = await readSettings(ledger)
          await checkCardsOf(ledger, { night, limit: CARDS_A_PAGE, which: 'plain', settings })
        }),
    },
    {
      name: 'recording a result',
      changes: true,
      prepare: async (ledger) => {
        const random = randomFor(drawSeed, 'results')
        const ids = await addWaiting(ledger, { plan, random })
        return ids.map((stillId) => async (asked: Ledger) => {
          const recorded = await recordResult(asked, stillId, seen(random))
          if (recorded !== 'recorded') throw new Error(`photo ${stillId}: ${recorded}`)
        })
      },
    },
    ...lookQuestions(plan, drawSeed),
  ]
}

/** As GET /api/water-run. */
async function waterRun(ledger: Ledger, { night, now }: { night: NightDate; now: Instant }) {
  const settings = await readSettings(ledger)
  const [facts] = await Promise.all([
    readWaterRun(ledger, { night, now: new Date(now) }),
    readProgress(ledger),
  ])
  return await waterRunRowsOf(ledger, facts, { settings, now, night })
}

/** What a week's grazing pressure is worked out from, at all points, without the weeks it is compared with. */
async function weekFacts(ledger: Ledger, { week, now }: { week: WeekOfNights; now: Instant }) {
  const settings = await readSettings(ledger)
  const asked = nightsAsked(week, settings).filter(({ weeksBack }) => weeksBack === 0)
  const states = {
    from: nightSpell(week.from, settings.zone).from,
    to: nightSpell(week.to, settings.zone).to,
  }
  return await readPressureFacts(ledger, { asked, now, states })
}

interface PagePick {
  readonly pointId: number
  readonly night: NightDate
  readonly now: Instant
  readonly plan: HistoryPlan
}

/** As GET /api/points/ID, its day and its nights, and the visits and first photos of a night below them. */
async function pointPage(ledger: Ledger, { pointId, night, now, plan }: PagePick) {
  const settings = await readSettings(ledger)
  const until = nightSpell(night, plan.zone).to
  const point = await findPoint(ledger, pointId)
  const standing = async () => {
    const [facts, cameras, states] = await Promise.all([
      readWaterRun(ledger, { night, now: new Date(now), pointId }),
      listCameras(ledger, pointId),
      listPointStates(ledger, pointId, STATES_SHOWN),
    ])
    const [row] = await waterRunRowsOf(ledger, facts, { settings, now, night })
    const shown = cameras.map((camera) => cameraOf(camera, settings, now))
    return {
      point: pointOf(point, settings),
      row,
      shown,
      states: states.map((one) => stateOf(one, plan.zone)),
    }
  }
  const from = plan.nights[plan.nights.indexOf(night) - NIGHTS_SHOWN + 1]!
  return await Promise.all([
    standing(),
    filmStrip(ledger, { pointId, until, settings }),
    nightsOfPoint(ledger, { pointId, from, to: night, settings, now }),
    listVisits(ledger, { pointId, from: night, to: night }, { place: null, limit: VISITS_A_NIGHT + 1 }).then(
      (visits) => visits.map((row) => visitOf(row, settings)),
    ),
    listStills(ledger, { pointId, night }, { place: null, limit: PHOTOS_A_PAGE + 1 }).then((views) =>
      views.map((view) => stillOf(view, settings)),
    ),
  ])
}

async function pointIds(ledger: Ledger): Promise<number[]> {
  const rows = await ledger.selectFrom('points').select('id').orderBy('id').execute()
  return rows.map(({ id }) => id)
}

/** Photos that wait to be looked at, each of another camera and another night, at an hour when animals come. */
async function addWaiting(
  ledger: Ledger,
  { plan, random }: { readonly plan: HistoryPlan; readonly random: Random },
): Promise<number[]> {
  const cameras = await ledger.selectFrom('cameras').select(['id', 'point_id']).orderBy('id').execute()
  const nights = random.sample(plan.nights, DRAWS)
  const run = `${Date.now()} ${process.hrtime.bigint()}`
  const rows = random.sample(cameras, DRAWS).map((camera, index) => {
    const night = nights[index % nights.length]!
    const { from } = nightSpell(night, plan.zone)
    const takenAt = new Date(from + random.next() * (MS_PER_DAY - 2 * MS_PER_HOUR) + MS_PER_HOUR)
    return {
      camera_id: camera.id,
      point_id: camera.point_id,
      hash: createHash('sha256').update(`${run} ${index}`).digest(),
      bytes: 50_000,
      format: 'jpeg',
      width: 640,
      height: 360,
      file_name: null,
      taken_at: takenAt,
      taken_from: 'exif' as const,
      clock_doubt: null,
      night,
      received_at: takenAt,
      state: 'received' as const,
      reason: null,
      model_id: null,
    }
  })
  const added = await ledger.insertInto('stills').values(rows).returning('id').execute()
  return added.map(({ id }) => id)
}

/** Two camels and a beast, with what the namer made of them. */
function seen(random: Random): Parameters<typeof recordResult>[2] {
  const found = (['camel', 'camel', 'cattle'] as const).map((species, place) => ({
    species,
    score: 0.6 + random.next() * 0.3,
    runnerUp: 0.05,
    box: [10 + place * 150, 120, 130 + place * 150, 210] as const,
    detector: [0.91, 0.01, 0.02, 0.01, 0.01, 0.03],
    namer: [0.94, 0.02, 0.01, 0.01, 0.01, 0.01],
    embedding: new Float32Array(EMBEDDING_LENGTH).fill(0.5),
  }))
  const sha = (letter: string) => letter.repeat(64)
  const models = { name: 'made-up', version: '1', detectorSha256: sha('d'), namerSha256: sha('a') }
  return { kind: 'seen', width: 640, height: 360, found, models }
}
