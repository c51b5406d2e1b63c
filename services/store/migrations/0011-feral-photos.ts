import { type Kysely, sql } from 'kysely'

/**
 * Whether a feral species is flagged on a still stands with it, and a night's flagged stills are read from the index alone:
 * which cards there are to check is told without looking at boxes or rows.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  'alter table stills add column feral boolean not null default false',
  // What is flagged and not unsure is feral (services/tally/judge.ts). A score is told apart from its mark as text, so
  // that 0.35 is 0.35 here as it is in the pure core.
  `update stills s set feral = true where s.flagged and (not s.unsure or exists (
    select from detections d join species_settings f on f.species = d.species and f.role = 'feral'
    where d.still_id = s.id and d.score::text::float8 >= f.flag_threshold))`,
  'drop index stills_flagged',
  `create index stills_flagged on stills (night, point_id) include (taken_at, id, feral, checked)
    where flagged and clock_doubt is null`,
]
