/** Which models spoke: a row for each, so that a still can say who looked at it. */
import type { Selectable } from 'kysely'
import type { ModelIdentity } from '../words.ts'
import type { LedgerOrTransaction } from './settings.ts'
import type { ModelsTable } from './tables.ts'

export function identityOf(model: Selectable<ModelsTable>): ModelIdentity {
  return {
    name: model.name,
    version: model.version,
    detectorSha256: model.detector_sha256,
    namerSha256: model.namer_sha256,
    ...(model.station_namer !== null && { stationNamer: model.station_namer }),
  }
}

/** The row of these models, or null where they have not spoken yet. */
export async function findModelId(
  ledger: LedgerOrTransaction,
  models: ModelIdentity,
): Promise<number | null> {
  const row = await ledger
    .selectFrom('models')
    .select('id')
    .where('name', '=', models.name)
    .where('version', '=', models.version)
    .where('detector_sha256', '=', models.detectorSha256)
    .where('namer_sha256', 'is not distinct from', models.namerSha256)
    .where('station_namer', 'is not distinct from', models.stationNamer ?? null)
    .executeTakeFirst()
  return row?.id ?? null
}

/** The row of these models, made where there is none. Must not be kept beyond the transaction: it may be undone. */
export async function modelIdOf(ledger: LedgerOrTransaction, models: ModelIdentity): Promise<number> {
  const known = await findModelId(ledger, models)
  if (known !== null) return known
  await ledger
    .insertInto('models')
    .values({
      name: models.name,
      version: models.version,
      detector_sha256: models.detectorSha256,
      namer_sha256: models.namerSha256,
      station_namer: models.stationNamer ?? null,
    })
    .onConflict((conflict) => conflict.doNothing())
    .execute()
  return (await findModelId(ledger, models))!
}
