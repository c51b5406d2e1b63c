/** Reads what grazing pressure is worked out from: kept night rows and effort, summed over a run of nights. */
import type { NightDate, Species } from '../words.ts'
import type { Ledger } from './open.ts'

export interface PointPressure {
  readonly pointId: number
  /** Seconds in which at least one camera of the point was watching. 0: not watched, which is not the same as no animals. */
  readonly watchedSeconds: number
  /** Species that were seen; one that was not is absent. */
  readonly species: ReadonlyArray<{
    readonly species: Species
    /** Visits that began in these nights. */
    readonly visits: number
    /** Animal-visits. */
    readonly sumOfPeaks: number
  }>
}

/** Every point in run order, over the nights `from` to `to`, both included; a week is `weekOf` one of its nights. */
export async function readPressure(
  ledger: Ledger,
  { from, to }: { readonly from: NightDate; readonly to: NightDate },
): Promise<PointPressure[]> {
  const [points, seen, effort] = await Promise.all([
    ledger.selectFrom('points').select('id').orderBy('run_order').orderBy('id').execute(),
    ledger
      .selectFrom('nights')
      .select((e) => [
        'point_id',
        'species',
        e.fn.sum<number>('visits').as('visits'),
        e.fn.sum<number>('sum_of_peaks').as('sum_of_peaks'),
      ])
      .where('night', '>=', from)
      .where('night', '<=', to)
      .groupBy(['point_id', 'species'])
      .orderBy('species')
      .execute(),
    ledger
      .selectFrom('effort')
      .select((e) => ['point_id', e.fn.sum<number>('watched_seconds').as('watched_seconds')])
      .where('night', '>=', from)
      .where('night', '<=', to)
      .groupBy('point_id')
      .execute(),
  ])
  const watched = new Map(effort.map((row) => [row.point_id, row.watched_seconds]))
  const species = new Map<number, Array<PointPressure['species'][number]>>(points.map(({ id }) => [id, []]))
  for (const row of seen) {
    species
      .get(row.point_id)
      ?.push({ species: row.species, visits: row.visits, sumOfPeaks: row.sum_of_peaks })
  }
  return points.map(({ id }) => ({
    pointId: id,
    watchedSeconds: watched.get(id) ?? 0,
    species: species.get(id) ?? [],
  }))
}
