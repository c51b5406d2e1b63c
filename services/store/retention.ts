/** Lets photos go by the owner's rule: in the ledger first, a batch at a time; then their bytes (removals.ts). */
import { type RawBuilder, sql } from 'kysely'
import { goneBefore, type KeepingRule, type Kept, leftBy } from '../tally/keeping.ts'
import type { Instant } from '../words.ts'
import { toDate } from './instants.ts'
import { type Freed, readKeeping, recordKeepingRun } from './keeping.ts'
import type { Ledger } from './open.ts'
import { finishRemovals, lockHashes, neededOf } from './removals.ts'
import type { LedgerOrTransaction } from './settings.ts'
import { smallOf } from './small-picture.ts'
import type { StillFiles } from './still-files.ts'

const AT_ONCE = 50
/** So many small pictures are made to tell how much smaller photos become. */
const SAMPLE = 8

interface Going {
  readonly left: 'small' | 'none'
  readonly before: Date
}

interface Candidate {
  readonly id: number
  readonly hash: Buffer
  readonly bytes: number
  readonly kept: Kept
}

export interface RetentionSurroundings {
  readonly ledger: Ledger
  readonly files: StillFiles
  readonly now: Instant
  readonly shouldStop?: () => boolean
}

/** The rule of tally/keeping.ts on many photos at once; a test holds the two against each other. */
function mayGo(table: 's' | 'o', { left, before }: Going): RawBuilder<boolean> {
  const of = (column: string) => sql.ref(`${table}.${column}`)
  const stays = sql`exists (select from sightings where still_id = ${of('id')})`
  const marked = sql`exists (select from checks where still_id = ${of('id')} and verdict = 'marked')`
  const drawn = sql`exists (select from audit_stills where still_id = ${of('id')})`
  const spoken = sql`${of('checked')} or ${marked} or ${drawn}`
  const empty = sql`${of('state')} = 'done' and not (${of('flagged')} or ${of('unsure')} or ${spoken} or ${stays})`
  const going = left === 'none' ? sql`(${empty} or ${of('state')} = 'unreadable')` : sql`(${empty})`
  return sql<boolean>`(${of('received_at')} < ${before} and ${going})`
}

/** Holds more than the rule leaves. */
const holdsMore = (table: 's' | 'o', { left }: Going) =>
  left === 'none' ? sql`${sql.ref(`${table}.kept`)} <> 'none'` : sql`${sql.ref(`${table}.kept`)} = 'whole'`

function goingBy(rule: KeepingRule, now: Instant): Going | null {
  const left = leftBy(rule)
  return left === null ? null : { left, before: toDate(goneBefore(rule, now)) }
}

/** Why nothing may go just now, or null: while counts are made again, no mark of a photo is to be trusted. */
export async function whyNothingGoes(ledger: LedgerOrTransaction): Promise<string | null> {
  const { rows } = await sql<{ recount: boolean; rerun: boolean }>`
    select exists (select from recount where state <> 'done') as recount,
      exists (select from reruns where state in ('running', 'paused')) as rerun`.execute(ledger)
  if (rows[0]?.recount) return 'photos are being counted again under new marks'
  if (rows[0]?.rerun) return 'photos are being looked at again'
  return null
}

/**
 * What a run under this rule would free now. Bytes that several photos share count once, and not at all where one of
 * those stays. What small pictures keep is worked out from a few that are made for it.
 */
export async function wouldFree(
  { ledger, files, now }: RetentionSurroundings,
  rule: KeepingRule,
): Promise<Freed> {
  const going = goingBy(rule, now)
  if (going === null) return { photos: 0, bytes: 0 }
  const candidates = sql`select s.id, s.hash, s.bytes, s.kept from stills s
    where ${mayGo('s', going)} and ${holdsMore('s', going)} and not exists (
      select from stills o where o.hash = s.hash and ${holdsMore('o', going)} and not ${mayGo('o', going)})`
  const { rows } = await sql<{ photos: number; bytes: number }>`
    with going as materialized (${candidates})
    select (select count(*) from going)::int as photos, coalesce(sum(bytes), 0)::bigint as bytes
    from (select distinct on (hash) bytes from going where kept = 'whole' order by hash) as once`.execute(
    ledger,
  )
  const { photos, bytes } = rows[0]!
  if (going.left === 'none' || photos === 0) return { photos, bytes }
  const sample = await sql<Candidate>`${candidates} order by s.hash limit ${SAMPLE}`.execute(ledger)
  return { photos, bytes: Math.round(bytes * (1 - (await smallShare(files, sample.rows)))) }
}

async function smallShare(files: StillFiles, sample: readonly Candidate[]): Promise<number> {
  let [small, whole] = [0, 0]
  for (const { hash } of sample) {
    const bytes = await files.read(hash)
    const made = bytes && (await smallOf(bytes))
    if (!bytes || !made) continue
    whole += bytes.length
    small += Math.min(made.length, bytes.length)
  }
  return whole === 0 ? 0 : small / whole
}

/**
 * Lets go what the station's rule lets go, and removes the bytes. Killed at any moment and run again it goes on.
 * @returns what was freed, and why nothing was where nothing may go just now.
 */
export async function runRetention(
  surroundings: RetentionSurroundings,
): Promise<Freed & { readonly whyNot: string | null }> {
  const { ledger, files, now, shouldStop = () => false } = surroundings
  await finishRemovals(ledger, files, shouldStop)
  const going = goingBy((await readKeeping(ledger)).rule, now)
  let freed: Freed = { photos: 0, bytes: 0 }
  let whyNot: string | null = null
  let after = 0
  while (going !== null && !shouldStop()) {
    whyNot = await whyNothingGoes(ledger)
    if (whyNot !== null) break
    const batch = await nextCandidates(ledger, going, after)
    if (batch.length === 0) break
    after = batch.at(-1)!.id
    const more = await letGo(surroundings, going, batch)
    freed = { photos: freed.photos + more.photos, bytes: freed.bytes + more.bytes }
    await finishRemovals(ledger, files, shouldStop)
  }
  if (whyNot === null && !shouldStop()) await recordKeepingRun(ledger, { at: now, ...freed })
  return { ...freed, whyNot }
}

async function nextCandidates(ledger: Ledger, going: Going, after: number): Promise<Candidate[]> {
  const { rows } = await sql<Candidate>`
    select s.id, s.hash, s.bytes, s.kept from stills s
    where s.id > ${after} and ${mayGo('s', going)} and ${holdsMore('s', going)}
    order by s.id limit ${AT_ONCE}`.execute(ledger)
  return rows
}

/** One batch: small pictures first, as they must be safe before the ledger counts on them; then the ledger. */
async function letGo(
  { ledger, files }: RetentionSurroundings,
  going: Going,
  batch: readonly Candidate[],
): Promise<Freed> {
  /** Of the small pictures that stay, or that go with what was made smaller before. */
  const smallBytes = new Map<string, number>()
  for (const { hash, kept } of batch) {
    const size =
      going.left === 'small' ? await keepSmaller(files, hash) : await sizeOfSmall(files, hash, kept)
    if (size !== null) smallBytes.set(hash.toString('hex'), size)
  }
  const ready = batch.filter(({ hash }) => going.left === 'none' || smallBytes.has(hash.toString('hex')))
  if (ready.length === 0) return { photos: 0, bytes: 0 }
  const hashes = ready.map(({ hash }) => hash)
  return await ledger.transaction().execute(async (tx) => {
    await lockHashes(tx, hashes)
    // A photo that somebody is checking at this moment is left for the next run, not waited for.
    const { rows } = await sql<Candidate & { camera_id: number }>`
      select s.id, s.hash, s.bytes, s.camera_id, s.kept from stills s
      where s.hash = any(${hashes}) and s.camera_id in (select id from cameras)
        and ${mayGo('s', going)} and ${holdsMore('s', going)} and not exists (
          select from cameras c cross join lateral (
            select from stills o where o.camera_id = c.id and o.hash = s.hash
              and ${holdsMore('o', going)} and not ${mayGo('o', going)} offset 0) as staying)
      for update of s skip locked`.execute(tx)
    if (rows.length === 0) return { photos: 0, bytes: 0 }
    const ids = rows.map(({ id }) => id)
    await tx.updateTable('stills').set({ kept: going.left }).where('id', 'in', ids).execute()
    const gone = new Map(rows.map((row) => [row.hash.toString('hex'), row]))
    await tx
      .insertInto('removals')
      .values([...gone.values()].map(({ hash }) => ({ hash })))
      .onConflict((conflict) => conflict.doNothing())
      .execute()
    const freedBy = ({ hash, kept, bytes }: Candidate) => {
      const small = smallBytes.get(hash.toString('hex')) ?? 0
      if (kept === 'small') return small
      return going.left === 'small' ? bytes - small : bytes
    }
    const cameraIds = [...new Set(rows.map((row) => row.camera_id))].sort((a, b) => a - b)
    for (const id of cameraIds) {
      const bytes = sum(rows.filter((row) => row.camera_id === id).map(freedBy))
      await tx
        .updateTable('cameras')
        .set((e) => ({ still_bytes: e('still_bytes', '-', bytes) }))
        .where('id', '=', id)
        .execute()
    }
    const needed = await neededOf(tx, hashes)
    const freed = [...gone].filter(([name]) => needed.get(name) === going.left).map(([, row]) => freedBy(row))
    return { photos: rows.length, bytes: sum(freed) }
  })
}

/** @returns how many bytes the small picture has, or null where it is no smaller or cannot be made */
async function keepSmaller(files: StillFiles, hash: Buffer): Promise<number | null> {
  const bytes = await files.read(hash)
  const small = bytes && (await smallOf(bytes))
  if (!bytes || !small || small.length >= bytes.length) return null
  await files.keepSmall(hash, small)
  return small.length
}

async function sizeOfSmall(files: StillFiles, hash: Buffer, kept: Kept): Promise<number | null> {
  return kept === 'small' ? ((await files.readSmall(hash))?.length ?? null) : null
}

function sum(numbers: readonly number[]): number {
  return numbers.reduce((total, number) => total + number, 0)
}
