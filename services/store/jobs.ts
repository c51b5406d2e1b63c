/** Jobs: a trip that a point needs, and everything that was said of it. */
import { type Selectable, sql } from 'kysely'
import { Refusal } from '../refusal.ts'
import { isOpen, type JobWord, type Trouble } from '../tally/job-words.ts'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import type { JobsTable, JobWordsTable } from './job-tables.ts'
import { tellPointsChanged } from './notices.ts'
import type { Ledger } from './open.ts'
import { findPoint } from './points.ts'
import { fingerprint, refuseOther } from './said-once.ts'
import type { LedgerOrTransaction } from './settings.ts'

export type JobWordRow = Selectable<JobWordsTable>

export interface JobAsked {
  readonly id: string
  /** One of them is given; a photo's job is at the photo's point. */
  readonly pointId: number | null
  readonly stillId: number | null
  readonly trouble: Trouble
  readonly who: string
  readonly person: string | null
  readonly note: string | null
}

export interface JobSaid {
  readonly id: string
  readonly jobId: string
  readonly word: Exclude<JobWord, 'asked for'>
  readonly who: string
  readonly person: string | null
  readonly note: string | null
}

export interface JobView extends Selectable<JobsTable> {
  readonly point_name: string
  readonly taken_at: Date | null
  readonly words: readonly JobWordRow[]
}

/** Writes a job down; one that came before under its id is left as it is. */
export async function askForJob(ledger: Ledger, asked: JobAsked, now: Instant): Promise<void> {
  const said = fingerprint(asked)
  await ledger.transaction().execute(async (tx) => {
    const pointId = await pointOfJob(tx, asked)
    const written = await tx
      .insertInto('jobs')
      .values({
        id: asked.id,
        point_id: pointId,
        still_id: asked.stillId,
        trouble: asked.trouble,
        made_at: toDate(now),
        said,
      })
      .onConflict((conflict) => conflict.column('id').doNothing())
      .returning('id')
      .executeTakeFirst()
    if (written === undefined) return refuseOther((await findJob(tx, asked.id)).said, asked, 'id')
    const { id, who, person, note } = asked
    await tx
      .insertInto('job_words')
      .values({ id, job_id: id, word: 'asked for', who, person, note, at: toDate(now), said })
      .execute()
    await tellPointsChanged(tx, [pointId])
  })
}

async function pointOfJob(tx: LedgerOrTransaction, { pointId, stillId }: JobAsked): Promise<number> {
  if (stillId === null) return (await findPoint(tx, pointId ?? 0)).id
  const still = await tx.selectFrom('stills').select('point_id').where('id', '=', stillId).executeTakeFirst()
  if (still !== undefined) return still.point_id
  throw new Refusal({
    kind: 'not found',
    detail: `There is no photo ${stillId}.`,
    field: 'stillId',
    remedy: 'Open the photo again, or ask for the trip from its point.',
  })
}

/** Writes a word on a job; one that came before under its id is left as it is. */
export async function sayOfJob(ledger: Ledger, said: JobSaid, now: Instant): Promise<void> {
  await ledger.transaction().execute(async (tx) => {
    // Whether it is open follows from all its words: one writer at a time.
    await tx.selectFrom('jobs').select('id').where('id', '=', said.jobId).forUpdate().execute()
    const job = await findJob(tx, said.jobId)
    const known = await tx.selectFrom('job_words').select('said').where('id', '=', said.id).executeTakeFirst()
    if (known !== undefined) return refuseOther(known.said, said, 'id')
    const { id, jobId, word, who, person, note } = said
    await tx
      .insertInto('job_words')
      .values({ id, job_id: jobId, word, who, person, note, at: toDate(now), said: fingerprint(said) })
      .execute()
    const words = await tx
      .selectFrom('job_words')
      .select('word')
      .where('job_id', '=', jobId)
      .orderBy('seq')
      .execute()
    const open = isOpen(words.map((row) => row.word))
    await tx.updateTable('jobs').set({ open }).where('id', '=', jobId).execute()
    await tellPointsChanged(tx, [job.point_id])
  })
}

async function findJob(tx: LedgerOrTransaction, id: string) {
  const job = await tx.selectFrom('jobs').selectAll().where('id', '=', id).executeTakeFirst()
  if (job !== undefined) return job
  throw new Refusal({
    kind: 'not found',
    detail: `There is no job ${id}.`,
    field: 'id',
    remedy: 'Load the list of jobs again.',
  })
}

/** Jobs that are open, oldest first; or the latest of all, or those of one photo. Each with everything said of it. */
export async function listJobs(
  ledger: Ledger,
  { which, limit }: { readonly which: 'open' | 'all' | { readonly stillId: number }; readonly limit: number },
): Promise<JobView[]> {
  const where =
    which === 'open' ? sql`j.open` : which === 'all' ? sql`true` : sql`j.still_id = ${which.stillId}`
  const order = which === 'open' ? sql`j.seq` : sql`j.seq desc`
  const { rows } = await sql<Omit<JobView, 'words'>>`
    select j.*, p.name as point_name, s.taken_at from jobs j
    join points p on p.id = j.point_id left join stills s on s.id = j.still_id
    where ${where} order by ${order} limit ${limit}`.execute(ledger)
  const words = await wordsOf(
    ledger,
    rows.map(({ id }) => id),
  )
  return rows.map((row) => ({ ...row, words: words.filter((word) => word.job_id === row.id) }))
}

export async function jobView(ledger: Ledger, id: string): Promise<JobView> {
  const job = await findJob(ledger, id)
  const point = await findPoint(ledger, job.point_id)
  const still =
    job.still_id === null
      ? undefined
      : await ledger.selectFrom('stills').select('taken_at').where('id', '=', job.still_id).executeTakeFirst()
  return {
    ...job,
    point_name: point.name,
    taken_at: still?.taken_at ?? null,
    words: await wordsOf(ledger, [id]),
  }
}

async function wordsOf(ledger: Ledger, ids: readonly string[]): Promise<JobWordRow[]> {
  if (ids.length === 0) return []
  return await ledger.selectFrom('job_words').selectAll().where('job_id', 'in', ids).orderBy('seq').execute()
}
