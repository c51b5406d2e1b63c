/** Cameras' counts of five weeks held against those of a notebook: said beside each other, never added up. */
import { readCameraNights } from '../store/camera-nights.ts'
import type { Ledger } from '../store/open.ts'
import { listPastCountNights, type PastCountRow, readPastCounts } from '../store/past-counts.ts'
import { type PressureFacts, readPressureFacts } from '../store/pressure.ts'
import { readSettings, type Settings } from '../store/settings.ts'
import { verdictsOf } from '../tally/change-verdicts.ts'
import { dispersionOfWeeks } from '../tally/dispersion.ts'
import { nightOf, nightSpell, nightsBetween } from '../tally/nights.ts'
import { LEAST_WATCHED_PART, type NotebookSpell, notebookSpell } from '../tally/notebook.ts'
import { notebookSpan } from '../tally/notebook-span.ts'
import { NO_NIGHTS, plus, type SpellTotals } from '../tally/spell-totals.ts'
import { weekAfter, weekName } from '../tally/week-name.ts'
import { type WeekOfNights, weekBefore, weekOf } from '../tally/weeks.ts'
import { type Instant, SPECIES, type Species } from '../words.ts'
import type { PastCountsCompared } from './past-count-shapes.ts'
import { nightsAsked } from './pressure-answer.ts'
import { pointsWeeks } from './pressure-facts.ts'
import { rounded } from './rounded.ts'

const WEEKS_BEFORE = 4

interface Asked {
  /** Absent: the last week that is over. */
  readonly week: WeekOfNights | undefined
  readonly now: Instant
}

type Row = PastCountsCompared['rows'][number]

export async function pastCountsCompared(ledger: Ledger, asked: Asked): Promise<PastCountsCompared> {
  const settings = await readSettings(ledger)
  const { zone } = settings
  const week = asked.week ?? weekBefore(weekOf(nightOf(asked.now, zone)))
  const cameras = { from: weekAfter(week, -WEEKS_BEFORE).from, to: week.to }
  const span = notebookSpan(await listPastCountNights(ledger), cameras)
  const base = { week: weekName(week), cameras }
  if (span === null) return { ...base, notebook: null, rows: [] }
  const lengths = nightsBetween(cameras.from, cameras.to).map((night) => {
    const { from, to } = nightSpell(night, zone)
    return { night, seconds: (to - from) / 1000 }
  })
  const [told, facts, nights] = await Promise.all([
    readPastCounts(ledger, span),
    readPressureFacts(ledger, {
      asked: nightsAsked(week, settings),
      now: asked.now,
      states: { from: nightSpell(cameras.from, zone).from, to: nightSpell(week.to, zone).to },
    }),
    readCameraNights(ledger, lengths, LEAST_WATCHED_PART),
  ])
  const rows = SPECIES.flatMap((species) => rowsOf(facts, { species, told, settings })).map((row) => {
    const of = nights.get(row.pointId)
    const seen = of?.seen.get(row.species)
    return {
      ...row,
      cameras: {
        ...row.cameras,
        headANight: of === undefined ? null : rounded((seen?.head ?? 0) / of.nights),
        headNights: of?.nights ?? 0,
        most: seen?.most ?? 0,
      },
    }
  })
  return {
    ...base,
    notebook: { ...span, files: [...new Set(told.map(({ file_name }) => file_name))].sort() },
    rows: [...rows.filter(({ role }) => role === 'feral'), ...rows.filter(({ role }) => role === 'stock')],
  }
}

/** ONE species, at the points of which the notebook tells, in run order. */
function rowsOf(
  facts: PressureFacts,
  {
    species,
    told,
    settings,
  }: { readonly species: Species; readonly told: readonly PastCountRow[]; readonly settings: Settings },
): Row[] {
  const weeks = pointsWeeks(facts, species)
  const factor = dispersionOfWeeks(weeks.flatMap((point) => [...point.weeks.values()]))?.factor ?? null
  const points = facts.points.flatMap(({ id, name }) => {
    const own = told.filter((row) => row.point_id === id && row.species === species)
    if (own.length === 0) return []
    const of = weeks.find(({ pointId }) => pointId === id)?.weeks
    const totals = Array.from({ length: WEEKS_BEFORE + 1 }, (_, back) => of?.get(back) ?? NO_NIGHTS)
    return [{ id, name, notebook: notebookSpell(own), now: totals.reduce<SpellTotals>(plus, NO_NIGHTS) }]
  })
  const comparable = points.filter(({ notebook }) => notebook.visits !== null)
  const verdicts = verdictsOf(
    comparable.map(({ notebook, now }) => ({
      now,
      before: { visits: notebook.visits ?? 0, watchedNights: notebook.watchedNights ?? 0 },
    })),
    factor,
  )
  return points.map(({ id, name, notebook, now }) => {
    const verdict = verdicts[comparable.findIndex((point) => point.id === id)]
    const number = (value: number | null | undefined) => (value == null ? null : rounded(value))
    return {
      pointId: id,
      pointName: name,
      species,
      role: settings.roles[species],
      notebook: toldOf(notebook),
      cameras: {
        headANight: null,
        headNights: 0,
        most: 0,
        visits: now.visits,
        watchedNights: rounded(now.watchedNights),
      },
      change:
        verdict === undefined
          ? null
          : {
              verdict: verdict.verdict,
              ratio: number(verdict.change?.ratio),
              low: number(verdict.change?.low),
              high: number(verdict.change?.high),
            },
    }
  })
}

function toldOf(spell: NotebookSpell): Row['notebook'] {
  return {
    ...spell,
    headANight: spell.headANight === null ? null : rounded(spell.headANight),
    watchedNights: spell.watchedNights === null ? null : rounded(spell.watchedNights),
  }
}
