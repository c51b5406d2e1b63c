/** Whether the photos lie where this process looks for them: two that disagree would each miss the other's. */
import { Refusal } from '../refusal.ts'
import type { Ledger } from './open.ts'
import type { StillFiles } from './still-files.ts'

const SAMPLE = 5

/**
 * Writes down where photos lie, or holds it against what was written down. A place is changed by copying the photos
 * first; then the newest and the oldest are found in the new one.
 * @throws Refusal (`conflict`) when they are not.
 */
export async function confirmPlace(ledger: Ledger, files: StillFiles, place: string): Promise<void> {
  const { place: before } = await ledger.selectFrom('keeping').select('place').executeTakeFirstOrThrow()
  if (before === place) return
  const sample = await Promise.all(
    (['desc', 'asc'] as const).map((order) =>
      ledger
        .selectFrom('stills')
        .select(['id', 'hash'])
        .where('kept', '=', 'whole')
        .orderBy('id', order)
        .limit(SAMPLE)
        .execute(),
    ),
  )
  for (const { id, hash } of sample.flat()) {
    if ((await files.read(hash)) !== null) continue
    throw new Refusal({
      kind: 'conflict',
      detail: `Photo ${id} is not in ${place}${before === null ? '' : `; this station's photos lie in ${before}`}.`,
      field: 'STILLS_S3',
      remedy:
        'Start with the same STILLS_S3 or STILLS_FOLDER as before (docs/storage.md), or copy the photos to the new place first.',
    })
  }
  await ledger.updateTable('keeping').set({ place }).execute()
}
