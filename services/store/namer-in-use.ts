/** The station's own namer that names its boxes now; read once, and asked for again each second. */
import type { StationNamer } from '../learning/station-namer.ts'
import type { ModelIdentity } from '../words.ts'
import type { Ledger } from './open.ts'
import type { LedgerOrTransaction } from './settings.ts'

export interface NamerInUse {
  readonly version: number
  /** Of the models whose boxes it names. */
  readonly detectorSha256: string
  readonly namerSha256: string
  readonly namer: StationNamer
}

/** Other processes learn of a change so late; a result they wrote meanwhile says who named it, so it is found again. */
const ASKED_EVERY_MS = 1_000

interface Known {
  atMs: number
  version: Promise<number | null>
  namer: NamerInUse | null
}

const known = new WeakMap<Ledger, Known>()

/** Null where the models' own names are in use. */
export async function namerInUse(ledger: Ledger): Promise<NamerInUse | null> {
  const nowMs = performance.now()
  let here = known.get(ledger)
  if (here === undefined || nowMs - here.atMs > ASKED_EVERY_MS) {
    here = { atMs: nowMs, version: versionInUse(ledger), namer: here?.namer ?? null }
    // A fault is not remembered: whoever asks next asks the ledger.
    here.version.catch(() => known.delete(ledger))
    known.set(ledger, here)
  }
  const version = await here.version
  if (version === null) return null
  if (here.namer?.version !== version) here.namer = await readNamer(ledger, version)
  return here.namer
}

/** After a change made here: the next question goes to the ledger. */
export function forgetNamerInUse(ledger: Ledger): void {
  known.delete(ledger)
}

async function versionInUse(ledger: LedgerOrTransaction): Promise<number | null> {
  const row = await ledger
    .selectFrom('namer_settings')
    .select('in_use')
    .where('is_on', '=', true)
    .executeTakeFirst()
  return row?.in_use ?? null
}

/** A namer by its version; the row cannot change. */
export async function readNamer(ledger: LedgerOrTransaction, version: number): Promise<NamerInUse> {
  const row = await ledger
    .selectFrom('namers')
    .selectAll()
    .where('id', '=', version)
    .executeTakeFirstOrThrow()
  const values = Float64Array.from({ length: row.weights.length / 8 }, (_, i) =>
    row.weights.readDoubleLE(8 * i),
  )
  const columns = row.learned.length === 0 ? 0 : values.length / row.learned.length
  return {
    version,
    detectorSha256: row.detector_sha256,
    namerSha256: row.namer_sha256,
    namer: {
      kinds: row.kinds,
      learned: row.learned,
      weights: { values, columns },
      ridge: row.ridge,
      crops: row.crops,
    },
  }
}

/** Whether it names what these models find. */
export function namesFor(
  { detectorSha256, namerSha256 }: Pick<NamerInUse, 'detectorSha256' | 'namerSha256'>,
  models: ModelIdentity,
): boolean {
  return detectorSha256 === models.detectorSha256 && namerSha256 === models.namerSha256
}

/** The station's models with the namer that names after them now: by whom new results are. */
export async function presentModels(ledger: Ledger, models: ModelIdentity): Promise<ModelIdentity> {
  const inUse = await namerInUse(ledger)
  return inUse !== null && namesFor(inUse, models) ? { ...models, stationNamer: inUse.version } : models
}
