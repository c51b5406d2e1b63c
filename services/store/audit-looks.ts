/** The looks that are drawn, as they are asked for, and the words said of them. */
import { sql } from 'kysely'
import { Refusal } from '../refusal.ts'
import type { Instant, NightDate, Tally } from '../words.ts'
import type { CheckRow } from './check-rows.ts'
import { recordChecks } from './checks.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'

/** Audits older than so many weeks ask no more: who was there then is not remembered any better for it. */
const ASKED_FOR_WEEKS = 8

export interface AuditView {
  readonly id: number
  readonly week_from: NightDate
  readonly week_to: NightDate
  readonly drawn_at: Date
  readonly seed: string
  readonly could_not_be_drawn: number
  readonly looks: number
  readonly looked_at: number
}

/** Of a look `l`: its last word has not been taken back. The words on a look's photos come together. */
const LOOKED_AT = sql<boolean>`coalesce((select c.verdict <> 'withdrawn' from audit_words w
  join checks c on c.id = w.check_id where w.look_id = l.id order by w.check_id desc limit 1), false)`

/** The latest audits, newest first, and how many of their looks have a word. */
export async function listAudits(ledger: LedgerOrTransaction, limit: number): Promise<AuditView[]> {
  const { rows } = await sql<AuditView>`
    select a.id, a.week_from, a.week_to, a.drawn_at, a.seed, a.could_not_be_drawn,
      (select count(*)::int from audit_looks l where l.audit_id = a.id) as looks,
      (select count(*)::int from audit_looks l where l.audit_id = a.id and ${LOOKED_AT}) as looked_at
    from audits a order by a.week_from desc limit ${limit}`.execute(ledger)
  return rows
}

export interface OpenLook {
  readonly id: number
  readonly audit_id: number
  readonly week_from: NightDate
  readonly point_name: string
  readonly camera_name: string
  readonly photos: ReadonlyArray<OpenPhoto>
}

/** A photo of a look, without anything that the machine said of it. */
export interface OpenPhoto {
  readonly id: number
  readonly taken_at: Date
  readonly width: number | null
  readonly height: number | null
  readonly kept: 'whole' | 'small' | 'none'
}

/** Looks that wait for a word, those of the latest week first, and how many wait in all. */
export async function listOpenLooks(
  ledger: Ledger,
  limit: number,
): Promise<{ readonly looks: readonly OpenLook[]; readonly open: number }> {
  const { rows } = await sql<Omit<OpenLook, 'photos'> & { open: number }>`
    select l.id, l.audit_id, a.week_from, p.name as point_name, c.name as camera_name, count(*) over ()::int as open
    from (select * from audits order by week_from desc limit ${ASKED_FOR_WEEKS}) a
    join audit_looks l on l.audit_id = a.id
    join points p on p.id = l.point_id join cameras c on c.id = l.camera_id
    where not ${LOOKED_AT} order by a.week_from desc, l.place limit ${limit}`.execute(ledger)
  const photos = await photosOf(
    ledger,
    rows.map(({ id }) => id),
  )
  return {
    open: rows[0]?.open ?? 0,
    looks: rows.map(({ open: _, ...look }) => ({
      ...look,
      photos: photos.filter(({ look_id }) => look_id === look.id),
    })),
  }
}

async function photosOf(ledger: Ledger, lookIds: readonly number[]) {
  const { rows } = await sql<OpenPhoto & { look_id: number }>`
    select t.look_id, s.id, s.taken_at, s.width, s.height, s.kept
    from audit_stills t join stills s on s.id = t.still_id
    where t.look_id = any(${lookIds}::bigint[]) order by s.taken_at, s.id`.execute(ledger)
  return rows
}

export interface LookWord {
  readonly stillId: number
  /** Head of each species there; null takes the word on the look back. */
  readonly counts: Tally | null
}

/**
 * A person's word on a look: a count for each of its photos, all of them, or all taken back. Each is an ordinary check as
 * well, and counts follow it at once.
 */
export async function recordLookWords(
  ledger: Ledger,
  said: {
    readonly lookId: number
    readonly words: readonly LookWord[]
    readonly who: string
    readonly at: Instant
  },
): Promise<CheckRow[]> {
  const { lookId, words, who, at } = said
  const photos = await photosOf(ledger, [lookId])
  refuseUnlessWhole(lookId, { asked: photos.map(({ id }) => id), words })
  return await recordChecks(ledger, {
    who,
    at,
    words: words.map(({ stillId, counts }) =>
      counts === null
        ? { stillId, verdict: 'withdrawn' as const }
        : { stillId, verdict: 'corrected' as const, counts },
    ),
    alongside: async (tx, written) => {
      await tx
        .insertInto('audit_words')
        .values(written.map(({ id }) => ({ look_id: lookId, check_id: id })))
        .execute()
    },
  })
}

function refuseUnlessWhole(
  lookId: number,
  { asked, words }: { readonly asked: readonly number[]; readonly words: readonly LookWord[] },
): void {
  if (asked.length === 0) {
    throw new Refusal({
      kind: 'not found',
      detail: `There is no blind look ${lookId}.`,
      field: 'id',
      remedy: 'Load the blind looks again.',
    })
  }
  const said = new Set(words.map(({ stillId }) => stillId))
  const taken = words.filter(({ counts }) => counts === null).length
  const whole =
    said.size === words.length && words.length === asked.length && asked.every((id) => said.has(id))
  if (whole && (taken === 0 || taken === words.length)) return
  throw new Refusal({
    kind: 'bad input',
    detail: `A blind look is told whole: one count for each of its photos (${asked.join(', ')}), or all taken back; got ${words.length}.`,
    field: 'words',
    remedy: 'Give each photo of the look a count; {} where nothing is there.',
  })
}
