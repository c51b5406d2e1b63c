/** Dated states of points: what a tap or a reading said of the water, the trap, the rain. */
import { randomUUID } from 'node:crypto'
import type { Selectable } from 'kysely'
import { TRAP_STATE_WORDS } from '../tally/trap-visits.ts'
import type { Instant, StateKind } from '../words.ts'
import { toDate } from './instants.ts'
import type { Ledger } from './open.ts'
import { findPoint } from './points.ts'
import type { PointStatesTable } from './tables.ts'
import { recordTrapWord } from './trap-log.ts'

/** As the doors take it where nobody is named. */
const WHO_TAPS = 'station'

export type PointStateRow = Selectable<PointStatesTable>

export interface SaidState {
  readonly pointId: number
  readonly kind: StateKind
  readonly at: Instant
  readonly source: 'tap' | 'reading'
  readonly levelPercent: number | null
  readonly note: string | null
}

/** Adds a state, said at `now`; the latest of its sort stands. One of a trap is written into the trap log, and stands as long as that word. */
export async function addPointState(
  ledger: Ledger,
  state: SaidState,
  now: Instant = state.at,
): Promise<PointStateRow> {
  await findPoint(ledger, state.pointId)
  const kind = TRAP_STATE_WORDS.find((one) => one === state.kind)
  if (kind !== undefined) return await addTrapState(ledger, { ...state, kind }, now)
  return await ledger
    .insertInto('point_states')
    .values({
      point_id: state.pointId,
      kind: state.kind,
      at: toDate(state.at),
      source: state.source,
      level_percent: state.levelPercent,
      note: state.note,
    })
    .returningAll()
    .executeTakeFirstOrThrow()
}

/** A tap tells neither who nor what is held. */
async function addTrapState(
  ledger: Ledger,
  { kind, pointId, at, note }: SaidState & { readonly kind: (typeof TRAP_STATE_WORDS)[number] },
  now: Instant,
): Promise<PointStateRow> {
  const id = randomUUID()
  const unsaid = { held: null, heldSince: null, species: null, class: null, withdraws: null }
  return await ledger.transaction().execute(async (tx) => {
    const word = { id, kind, pointId, at, note, who: WHO_TAPS, ...unsaid }
    await recordTrapWord(tx, word, { now, field: 'kind' })
    return await tx
      .selectFrom('point_states')
      .selectAll()
      .where('trap_word', '=', id)
      .executeTakeFirstOrThrow()
  })
}

export async function listPointStates(
  ledger: Ledger,
  pointId: number,
  limit: number,
): Promise<PointStateRow[]> {
  return await ledger
    .selectFrom('point_states')
    .selectAll()
    .where('point_id', '=', pointId)
    .orderBy('at', 'desc')
    .orderBy('id', 'desc')
    .limit(limit)
    .execute()
}
