import { type Kysely, sql } from 'kysely'

/**
 * Fuller words on photos: marks, kinds of the station's own, boxes that a person drew, and batches that are said once
 * however often they come. What a photo shows of people, and how sharp it is, stands with the photo.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table check_batches (
    id uuid primary key,
    at timestamptz not null,
    who text not null,
    said bytea not null
  )`,
  `alter table checks
    add column batch_id uuid references check_batches,
    add column marks jsonb,
    add column others jsonb,
    add column boxes jsonb,
    drop constraint checks_verdict_check,
    add constraint checks_verdict_check check (verdict in ('agreed', 'corrected', 'marked', 'withdrawn'))`,
  'create index checks_by_batch on checks (batch_id) where batch_id is not null',
  `alter table stills add column person boolean not null default false, add column sharpness real`,
  // The night's other visits: those of which somebody has spoken must not go from the list with their last animal.
  'create index stills_checked on stills (night) where checked and not flagged',
]
