import { type Kysely, sql } from 'kysely'

/** Mailboxes that cameras send their photos to, what tells whose a mail is, and the mails whose photos were not taken. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS = [
  `create table mailboxes (
    id integer generated always as identity primary key,
    name text not null unique,
    host text not null,
    port integer not null check (port between 1 and 65535),
    security text not null check (security in ('tls', 'starttls', 'none')),
    -- Without encryption to another machine only by the owner's word.
    plain_by_owner boolean not null default false,
    certificate_sha256 text check (certificate_sha256 ~ '^[0-9a-f]{64}$'),
    user_name text not null,
    password text not null,
    folder text not null,
    after_taking text not null check (after_taking in ('flag', 'file', 'delete')),
    file_to text,
    poll_minutes integer not null check (poll_minutes between 1 and 1440),
    is_on boolean not null default true,
    -- A mail is known by both (RFC 9051, section 2.3.1.1); every mail up to last_uid was dealt with.
    uid_validity bigint,
    last_uid bigint not null default 0,
    -- Goes up when what tells whose a mail is changes; mails that fitted no camera were looked at under the second.
    rules_generation integer not null default 0,
    looked_generation integer not null default 0,
    last_try_at timestamptz,
    last_ok_at timestamptz,
    last_reason text,
    mails bigint not null default 0,
    photos bigint not null default 0
  )`,
  `create table mail_rules (
    id integer generated always as identity primary key,
    mailbox_id integer not null references mailboxes on delete cascade,
    camera_id integer not null references cameras,
    kind text not null check (kind in ('tag', 'subject', 'sender')),
    words text not null,
    unique (mailbox_id, kind, words)
  )`,
  // They lie in the mailbox as they came; here is only what a person knows them by.
  `create table mails_left (
    mailbox_id integer not null references mailboxes on delete cascade,
    uid bigint not null,
    sender text not null,
    subject text not null,
    at timestamptz,
    reason text not null,
    -- Tried again by itself: never, when rules change, or soon.
    again text not null check (again in ('never', 'with other rules', 'soon')),
    primary key (mailbox_id, uid)
  )`,
]
