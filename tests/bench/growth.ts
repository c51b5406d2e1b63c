/** How the screens' reads and the recording of a result bear growth: the same station with more and more photos. */
import { chmod, mkdir, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises'
import { availableParallelism, loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'kysely'
import { Refusal } from '../../services/refusal.ts'
import { openEmbeddedPostgres } from '../../services/store/embedded/open.ts'
import { type Ledger, openLedger } from '../../services/store/open.ts'
import { nightOf, nightsBetween } from '../../services/tally/nights.ts'
import type { Instant, Zone } from '../../services/words.ts'
import {
  type Figures,
  figuresOf,
  inWords,
  type Measured,
  measuredHead,
  measuredLine,
  ratioLines,
} from './growth/figures.ts'
import { fill } from './growth/fill.ts'
import { forgetFiles } from './growth/forget.ts'
import type { HistoryPlan } from './growth/history.ts'
import { growthOptions } from './growth/options.ts'
import { type Question, questionsOf } from './growth/questions.ts'
import { processorMs } from './processor-time.ts'

const SEED = 20_261
const DRAW_SEED = 7
const POINTS = 200
const CAMERAS_A_POINT = 2
const ZONE = 'Australia/Adelaide' as Zone
const FIRST_NOON = Date.parse('2023-11-20T12:00:00+10:30') as Instant
const LAST_NOON = Date.parse('2026-11-19T12:00:00+10:30') as Instant
const FILLED_FILE = 'filled.json'

const say = (line: string) => process.stdout.write(`${line}\n`)

export async function benchGrowth(args: readonly string[]): Promise<void> {
  const { stills, keep } = growthOptions(args)
  const nights = nightsBetween(nightOf(FIRST_NOON, ZONE), nightOf(LAST_NOON, ZONE))
  say(
    `growth: ${POINTS} points, ${POINTS * CAMERAS_A_POINT} cameras, ${nights.length} nights, seed ${SEED}, asks drawn by seed ${DRAW_SEED}, ${availableParallelism()} cores`,
  )
  let smaller: { stills: number; measured: Measured[] } | null = null
  for (const count of stills) {
    const plan = {
      seed: SEED,
      stills: count,
      points: POINTS,
      camerasPerPoint: CAMERAS_A_POINT,
      nights,
      zone: ZONE,
    }
    const folder = keep === null ? await temporaryFolder() : await keptFolder(keep, plan)
    try {
      await makeFilled(folder, plan)
      const measured = await measure(folder, plan)
      if (smaller !== null) for (const line of ratioLines(smaller, { stills: count, measured })) say(line)
      smaller = { stills: count, measured }
    } finally {
      if (keep === null) await rm(folder, { recursive: true, force: true })
    }
  }
}

async function temporaryFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-growth-'))
  // As root PostgreSQL runs as another user, who has to get in.
  await chmod(folder, 0o755)
  return folder
}

async function keptFolder(keep: string, plan: HistoryPlan): Promise<string> {
  const folder = join(keep, `stills-${plan.stills}`)
  await mkdir(folder, { recursive: true, mode: 0o755 })
  return folder
}

/** Fills the folder's ledger, unless it was filled for the same plan before. */
async function makeFilled(folder: string, plan: HistoryPlan): Promise<void> {
  const filled = join(folder, FILLED_FILE)
  const { stills, seed, points, camerasPerPoint } = plan
  const mark = JSON.stringify({ stills, seed, points, camerasPerPoint, nights: plan.nights.length })
  const before = await readFile(filled, 'utf8').catch(() => null)
  if (before === mark) return
  if (before !== null || (await isThere(join(folder, 'pg')))) {
    throw new Refusal({
      kind: 'conflict',
      field: '--keep',
      detail: `${folder} holds another ledger, or one whose filling was cut short.`,
      remedy: 'Remove that folder, or name another one.',
    })
  }
  const startedAt = performance.now()
  // Nothing is flushed while it fills; it is measured with the settings of a station.
  const postgres = await openEmbeddedPostgres({ folder, log: () => undefined, durable: false })
  try {
    await fill(postgres.url, plan)
  } finally {
    await postgres.stop()
  }
  await writeFile(filled, mark)
  say(`${inWords(stills)} photos: filled in ${((performance.now() - startedAt) / 1000).toFixed(0)} s`)
}

async function isThere(path: string): Promise<boolean> {
  return await stat(path).then(
    () => true,
    () => false,
  )
}

async function measure(folder: string, plan: HistoryPlan): Promise<Measured[]> {
  const measured: Measured[] = []
  let forgot = true
  const add = (one: Measured) => {
    if (measured.length === 0) say(measuredHead)
    say(measuredLine(one))
    measured.push(one)
  }
  for (const question of questionsOf(plan, DRAW_SEED)) {
    let asks = await withLedger(folder, async (ledger) => {
      if (measured.length === 0) say(await contentsLine(ledger, plan))
      return await question.prepare(ledger)
    })
    forgot = (await forgetFiles(folder)) && forgot
    await withLedger(folder, async (ledger) => {
      add({ question: question.name, state: 'cold', figures: await timed(asks, { ledger, folder }) })
      // What is recorded once can't be recorded again: new photos, of the same cameras and nights.
      if (question.changes) asks = await question.prepare(ledger)
      add({ question: question.name, state: 'warm', figures: await timed(asks, { ledger, folder }) })
    })
  }
  say(
    forgot
      ? '  cold: PostgreSQL restarted and its files dropped from memory before each question; warm: the same asks again'
      : '  cold: PostgreSQL restarted before each question (its files could not be dropped from memory); warm: the same asks again',
  )
  return measured
}

async function withLedger<T>(folder: string, work: (ledger: Ledger) => Promise<T>): Promise<T> {
  const postgres = await openEmbeddedPostgres({ folder, log: () => undefined })
  try {
    const ledger = await openLedger(postgres.url)
    try {
      return await work(ledger)
    } finally {
      await ledger.destroy()
    }
  } finally {
    await postgres.stop()
  }
}

/** One at a time, as the phone of one manager asks. */
async function timed(
  asks: Awaited<ReturnType<Question['prepare']>>,
  { ledger, folder }: { readonly ledger: Ledger; readonly folder: string },
): Promise<Figures> {
  const times: number[] = []
  const cpuBefore = await processorMs(folder)
  for (const ask of asks) {
    const startedAt = performance.now()
    await ask(ledger)
    times.push(performance.now() - startedAt)
  }
  const cpuAfter = await processorMs(folder)
  return figuresOf(times, cpuBefore === null || cpuAfter === null ? null : cpuAfter - cpuBefore)
}

async function contentsLine(ledger: Ledger, plan: HistoryPlan): Promise<string> {
  const { rows } = await sql<{ table: string; rows: number }>`
    select relname as table, reltuples::bigint as rows from pg_class
    where relname in ('stills', 'detections', 'sightings', 'visits', 'nights', 'checks') order by reltuples desc`.execute(
    ledger,
  )
  const size = await sql<{ bytes: number }>`select pg_database_size(current_database()) as bytes`.execute(
    ledger,
  )
  const megabytes = Math.round((size.rows[0]?.bytes ?? 0) / 1024 / 1024)
  const tables = rows.map(({ table, rows: count }) => `${table} ${count.toLocaleString('en')}`).join(', ')
  const load = loadavg()[0]?.toFixed(1)
  return `${inWords(plan.stills)} photos: ${tables}; ${megabytes.toLocaleString('en')} MB; load ${load}`
}
