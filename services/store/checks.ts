/** The append-only log of what people said of stills; tallies, visits and nights follow each word at once. */
import type { Transaction } from 'kysely'
import { Refusal } from '../refusal.ts'
import { judgeStill } from '../tally/judge.ts'
import { type SaidWord, wholeWord } from '../tally/whole-word.ts'
import type { Instant } from '../words.ts'
import { type Batch, takeBatch } from './check-batches.ts'
import { type CheckRow, checkRowOf } from './check-rows.ts'
import { toDate } from './instants.ts'
import { identityOf } from './models.ts'
import { tellChange } from './notices.ts'
import type { Ledger } from './open.ts'
import { lockMoved, lockPoints } from './point-lock.ts'
import { readSettings, type Settings } from './settings.ts'
import { keepStanding, standingOf, standingWord } from './sightings.ts'
import { readSpokenStills, type SpokenStill } from './spoken-stills.ts'
import type { Tables } from './tables.ts'

/** Why there is nothing on a still that a person could speak of. */
const WHY_NOT = {
  gone: 'is not here',
  received: 'has not been looked at yet',
  unreadable: 'could not be read, so there is nothing on it to check',
} as const

/** What is written down with words, or not at all: why they were asked for. */
export type Alongside = (tx: Transaction<Tables>, written: readonly CheckRow[]) => Promise<void>

/**
 * Records words on stills, all or none; a batch that came before is answered with what was written then. The counts of an
 * agreed word are the machine's at that moment.
 */
export async function recordChecks(
  ledger: Ledger,
  { at, alongside, ...batch }: Batch & { readonly at: Instant; readonly alongside?: Alongside },
): Promise<CheckRow[]> {
  return await ledger.transaction().execute(async (tx) => {
    if (!(await takeBatch(tx, batch, at))) return await checksOfBatch(tx, batch.id!)
    const ids = [...new Set(batch.words.map(({ stillId }) => stillId))]
    const points = await tx
      .selectFrom('stills')
      .select('point_id')
      .distinct()
      .where('id', 'in', ids)
      .execute()
    // Locks in one order everywhere, so that two people's words can't wait for each other.
    const locked = new Set(points.map((row) => row.point_id))
    await lockPoints(tx, [...locked])
    // Read once nobody else can change them: a second look or a recount may have been at work on these photos.
    const settings = await readSettings(tx)
    const stills = await readSpokenStills(tx, ids)
    await lockMoved(tx, locked, [...stills.values()])
    for (const [index, word] of batch.words.entries()) {
      refuseUnless(word, stills.get(word.stillId), index)
    }
    const written = await writeWords(tx, { ...batch, at }, { stills, settings })
    await alongside?.(tx, written)
    const spoken = [...stills.values()]
    const standing = spoken.map((still) => {
      const check = standingWord(written.findLast(({ stillId }) => stillId === still.id) ?? null)
      return { still, standing: standingOf(still, { boxes: still.boxes, check }, settings) }
    })
    await keepStanding(tx, standing, settings)
    await tellChange(tx, {
      stillIds: ids,
      pointIds: [...new Set(spoken.map((still) => still.point_id))],
      nights: [...new Set(spoken.map((still) => still.night))],
      checkId: Math.max(...written.map(({ id }) => id)),
    })
    return written
  })
}

async function checksOfBatch(tx: Transaction<Tables>, batchId: string): Promise<CheckRow[]> {
  const rows = await tx
    .selectFrom('checks')
    .selectAll()
    .where('batch_id', '=', batchId)
    .orderBy('id')
    .execute()
  return rows.map(checkRowOf)
}

function refuseUnless(word: SaidWord, still: SpokenStill | undefined, index: number): void {
  if (still?.state !== 'done') {
    throw new Refusal({
      kind: still === undefined ? 'not found' : 'conflict',
      detail: `Photo ${word.stillId} ${WHY_NOT[(still?.state ?? 'gone') as keyof typeof WHY_NOT]}.`,
      field: `words.${index}.stillId`,
      remedy: 'Load the photos again and say it once more.',
    })
  }
  const { width, height } = still
  const drawn = word.boxes ?? []
  if (drawn.every(({ box: [, , x1, y1] }) => x1 <= (width ?? x1) && y1 <= (height ?? y1))) return
  throw new Refusal({
    kind: 'bad input',
    detail: `A box reaches beyond photo ${still.id}, which is ${width} x ${height} pixels.`,
    field: `words.${index}.boxes`,
    remedy: 'Give boxes in pixels of the photo as it came, inside its edges.',
  })
}

async function writeWords(
  tx: Transaction<Tables>,
  { id: batchId, who, words, at }: Batch & { readonly at: Instant },
  { stills, settings }: { readonly stills: ReadonlyMap<number, SpokenStill>; readonly settings: Settings },
): Promise<CheckRow[]> {
  const standing = new Map([...stills].map(([id, still]) => [id, still.standing]))
  const rows = words.map((word) => {
    const still = stills.get(word.stillId)!
    const { tally } = judgeStill({
      found: still.boxes,
      thresholds: settings.thresholds,
      feral: settings.feral,
    })
    const whole = wholeWord(word, standing.get(still.id) ?? null, tally)
    standing.set(still.id, whole)
    const seen = { models: still.model && identityOf(still.model), thresholds: settings.thresholds, tally }
    return { stillId: still.id, at: toDate(at), who, verdict: word.verdict, ...whole, seen }
  })
  const ids = await tx
    .insertInto('checks')
    .values(
      rows.map((row) => ({
        still_id: row.stillId,
        at: row.at,
        who: row.who,
        verdict: row.verdict,
        counts: jsonOrNull(row.counts),
        seen: JSON.stringify(row.seen),
        batch_id: batchId ?? null,
        marks: jsonOrNull(row.marks.length === 0 ? null : row.marks),
        others: jsonOrNull(row.others),
        boxes: jsonOrNull(row.boxes.length === 0 ? null : row.boxes),
      })),
    )
    .returning('id')
    .execute()
  // Ids are given out in the order of the rows.
  const inOrder = ids.map(({ id }) => id).sort((a, b) => a - b)
  return rows.map(({ seen: _, ...row }, index) => ({ id: inOrder[index]!, ...row }))
}

function jsonOrNull(value: object | null): string | null {
  return value === null ? null : JSON.stringify(value)
}
