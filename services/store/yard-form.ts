/** What the form at the yard offers to choose from: programs of late, and words that were typed before. */
import type { ProgramRow } from './programs.ts'
import type { LedgerOrTransaction } from './settings.ts'

const MOST_PROGRAMS = 20
const ENTRIES_READ = 300

/** Programs that are not dropped and ended on `since` at the earliest, the latest first. */
export async function programsOfLate(ledger: LedgerOrTransaction, since: string): Promise<ProgramRow[]> {
  return await ledger
    .selectFrom('programs')
    .selectAll()
    .where('dropped_at', 'is', null)
    .where('to_night', '>=', since as ProgramRow['to_night'])
    .orderBy('from_night', 'desc')
    .orderBy('id', 'desc')
    .limit(MOST_PROGRAMS)
    .execute()
}

export interface TypedBefore {
  readonly methods: readonly string[]
  readonly classes: readonly string[]
  readonly carriers: readonly string[]
  readonly units: readonly string[]
}

/** Each once, what was typed last on top. */
export async function typedBefore(ledger: LedgerOrTransaction): Promise<TypedBefore> {
  const rows = await ledger
    .selectFrom('outcomes')
    .select(['method', 'class', 'carrier', 'effort_unit'])
    .where('kind', '=', 'taken')
    .orderBy('seq', 'desc')
    .limit(ENTRIES_READ)
    .execute()
  const once = (words: ReadonlyArray<string | null>) => [
    ...new Set(words.filter((word): word is string => word !== null)),
  ]
  return {
    methods: once(rows.map((row) => row.method)),
    classes: once(rows.map((row) => row.class)),
    carriers: once(rows.map((row) => row.carrier)),
    units: once(rows.map((row) => row.effort_unit)),
  }
}
