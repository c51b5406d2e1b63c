/** Reads audits as the pure core tells shares and corrected counts from them: some hundred rows a week, whatever the years. */
import { sql } from 'kysely'
import type { AuditedLook, AuditWeek } from '../tally/audit-evidence.ts'
import { countsOf } from '../tally/looks.ts'
import type { NightDate, Tally } from '../words.ts'
import type { MarksAtDraw } from './audit-tables.ts'
import { toInstant } from './instants.ts'
import type { Ledger } from './open.ts'

export interface AuditWeekRead extends AuditWeek {
  readonly from: NightDate
  readonly to: NightDate
  readonly marks: MarksAtDraw
  /** The models that had looked at what was drawn. */
  readonly modelIds: readonly number[]
}

/** The audits of the latest `weeks` weeks that were drawn up to a night, newest first. */
export async function readAuditWeeks(ledger: Ledger, weeks: number): Promise<AuditWeekRead[]> {
  const audits = await ledger
    .selectFrom('audits')
    .select(['id', 'week_from', 'week_to', 'marks'])
    .orderBy('week_from', 'desc')
    .limit(weeks)
    .execute()
  if (audits.length === 0) return []
  const ids = audits.map(({ id }) => id)
  const [strata, looks, known, counts] = await Promise.all([
    ledger.selectFrom('audit_strata').selectAll().where('audit_id', 'in', ids).execute(),
    readLooks(ledger, ids),
    ledger.selectFrom('audit_known').selectAll().where('audit_id', 'in', ids).execute(),
    ledger.selectFrom('audit_counts').selectAll().where('audit_id', 'in', ids).execute(),
  ])
  const of = <Row extends { readonly audit_id: number }>(rows: readonly Row[], id: number) =>
    rows.filter(({ audit_id }) => audit_id === id)
  return audits.map(({ id, week_from, week_to, marks }) => ({
    id,
    from: week_from,
    to: week_to,
    marks,
    there: of(strata, id).map((row) => ({ ...row, cameraId: row.camera_id, pointId: row.point_id })),
    looks: looks.filter(({ auditId }) => auditId === id),
    modelIds: [
      ...new Set(
        looks.flatMap(({ auditId, modelId }) => (auditId === id && modelId !== null ? [modelId] : [])),
      ),
    ],
    known: of(known, id).map((row) => ({ ...row, cameraId: row.camera_id })),
    counts: of(counts, id).map((row) => ({
      ...row,
      pointId: row.point_id,
      knownVisits: row.known_visits,
      knownHead: row.known_head,
    })),
  }))
}

interface WordRow {
  readonly look_id: number
  readonly taken_at: Date
  readonly verdict: string
  readonly counts: Tally | null
}

async function readLooks(
  ledger: Ledger,
  auditIds: readonly number[],
): Promise<Array<AuditedLook & { readonly auditId: number; readonly modelId: number | null }>> {
  const looks = await ledger.selectFrom('audit_looks').selectAll().where('audit_id', 'in', auditIds).execute()
  // The last word that was asked for by lot on each photo: what was said of it elsewhere is not blind.
  const { rows: words } = await sql<WordRow>`
    select distinct on (w.look_id, c.still_id) w.look_id, s.taken_at, c.verdict, c.counts
    from audit_looks l join audit_words w on w.look_id = l.id
    join checks c on c.id = w.check_id join stills s on s.id = c.still_id
    where l.audit_id = any(${auditIds}::int[])
    order by w.look_id, c.still_id, c.id desc`.execute(ledger)
  return looks.map((look) => {
    const said = words.filter(({ look_id }) => look_id === look.id)
    const isSaid = said.length > 0 && said.every(({ verdict }) => verdict !== 'withdrawn')
    const photos = said.map(({ taken_at, counts }) => ({ at: toInstant(taken_at), tally: counts ?? {} }))
    return {
      auditId: look.audit_id,
      modelId: look.model_id,
      side: look.side,
      stratum: look.stratum,
      species: look.species,
      cameraId: look.camera_id,
      pointId: look.point_id,
      light: look.light,
      machine: look.machine,
      truth: isSaid ? countsOf(photos, look.gap_minutes) : null,
    }
  })
}
