/** Writes an asking down: a namer, its trial, what it learned from, and whether it is used from now on. */
import { sql, type Transaction } from 'kysely'
import type { CountMarks } from '../learning/counted-as.ts'
import type { StationNamer } from '../learning/station-namer.ts'
import type { Trial } from '../learning/trial.ts'
import type { Instant, ModelIdentity } from '../words.ts'
import type { LabelledCrop } from './checked-crops.ts'
import { toDate } from './instants.ts'
import { forgetNamerInUse } from './namer-in-use.ts'
import { lastAsking, readNamerSettings } from './namers.ts'
import type { Ledger } from './open.ts'
import type { Tables } from './tables.ts'

const WRITTEN_AT_ONCE = 5_000

export interface Asking {
  readonly models: ModelIdentity
  readonly namer: StationNamer
  readonly trial: Trial
  readonly labels: readonly LabelledCrop[]
  /** All checked crops there were, of which it may have learned from the latest. */
  readonly crops: number
  readonly seed: string
  readonly marks: CountMarks
  readonly at: Instant
  /** The version of the last asking when this one began; null where there was none. */
  readonly after: number | null
}

/**
 * Writes an asking down, and takes it into use where its trial says so and the owner has not said otherwise. One that
 * harms a species takes whatever is in use out of it: twice the checks know better. Null where another service asked
 * meanwhile.
 */
export async function recordAsking(ledger: Ledger, asking: Asking): Promise<number | null> {
  const version = await ledger.transaction().execute(async (tx) => {
    await sql`lock table namers in share row exclusive mode`.execute(tx)
    const last = await lastAsking(tx, asking.models)
    if ((last?.version ?? null) !== asking.after) return null
    const id = await insertNamer(tx, asking)
    const { takesNew } = await readNamerSettings(tx)
    const { verdict } = asking.trial
    if (verdict === 'take' && takesNew) await tx.updateTable('namer_settings').set({ in_use: id }).execute()
    if (verdict === 'worse for a species')
      await tx.updateTable('namer_settings').set({ in_use: null }).execute()
    return id
  })
  forgetNamerInUse(ledger)
  return version
}

async function insertNamer(
  tx: Transaction<Tables>,
  { models, namer, trial: { verdict, ...trial }, labels, crops, seed, marks, at }: Asking,
): Promise<number> {
  const { id } = await tx
    .insertInto('namers')
    .values({
      detector_sha256: models.detectorSha256,
      namer_sha256: models.namerSha256!,
      kinds: JSON.stringify(namer.kinds),
      learned: JSON.stringify(namer.learned),
      weights: weightsOut(namer.weights.values),
      ridge: namer.ridge,
      crops,
      seed,
      marks: JSON.stringify(marks),
      trial: JSON.stringify(trial),
      verdict,
      made_at: toDate(at),
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  for (let from = 0; from < labels.length; from += WRITTEN_AT_ONCE) {
    await tx
      .insertInto('namer_crops')
      .values(
        labels.slice(from, from + WRITTEN_AT_ONCE).map((label) => ({
          namer_id: id,
          detection_id: label.detectionId,
          still_id: label.stillId,
          check_id: label.checkId,
          kind: label.kind,
        })),
      )
      .execute()
  }
  return id
}

/** Little-endian whatever the machine. */
function weightsOut(values: Float64Array): Buffer {
  const bytes = Buffer.alloc(values.length * 8)
  for (const [i, value] of values.entries()) bytes.writeDoubleLE(value, 8 * i)
  return bytes
}
