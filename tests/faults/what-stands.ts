/** What must stand when the dust has settled: every acknowledged photo once, done once, and all that is kept of it right. */
import { sql } from 'kysely'
import type { Ledger } from '../../services/store/open.ts'
import type { StillFiles } from '../../services/store/still-files.ts'
import { keptAggregates, recountFromNothing } from '../integration/recount.ts'
import { stubLook } from '../stub-look.ts'

export interface Station {
  readonly ledger: Ledger
  readonly files: StillFiles
  /** `CAMERA-ID SHA-256` of every photo the senders were told is safe. */
  readonly acknowledged: ReadonlySet<string>
}

/** Everything that is lost, doubled or miscounted, in words; nothing where all stands. */
export async function faultsOf({ ledger, files, acknowledged }: Station): Promise<string[]> {
  const faults: string[] = []
  const stills = await ledger
    .selectFrom('stills')
    .select(['id', 'camera_id', 'hash', 'state', 'reason'])
    .execute()
  const names = stills.map((still) => `${still.camera_id} ${still.hash.toString('hex')}`)
  const there = new Set(names)
  if (there.size !== names.length) faults.push(`${names.length - there.size} stills are in the ledger twice`)
  for (const name of acknowledged) if (!there.has(name)) faults.push(`acknowledged and lost: ${name}`)
  for (const still of stills) {
    if (still.state !== 'done') faults.push(`still ${still.id} is ${still.state} (${still.reason})`)
    const bytes = await files.read(still.hash)
    if (bytes === null) faults.push(`the bytes of still ${still.id} are not there whole`)
  }

  const boxes = await sql<{ still_id: number; boxes: number }>`
    select still_id, count(*)::int as boxes from detections group by still_id`.execute(ledger)
  const boxesOf = new Map(boxes.rows.map((row) => [row.still_id, row.boxes]))
  for (const still of stills) {
    const [kept, seen] = [boxesOf.get(still.id) ?? 0, boxesSeenIn(still.hash)]
    if (still.state === 'done' && kept !== seen)
      faults.push(`still ${still.id} has ${kept} boxes where the eye saw ${seen}`)
  }

  const cameras = await ledger.selectFrom('cameras').select(['id', 'stills']).execute()
  for (const camera of cameras) {
    const own = stills.filter((still) => still.camera_id === camera.id).length
    if (camera.stills !== own) faults.push(`camera ${camera.id} counts ${camera.stills} photos of ${own}`)
  }

  const [kept, counted] = [await keptAggregates(ledger), await recountFromNothing(ledger)]
  for (const part of ['visits', 'nights', 'effort'] as const) {
    if (JSON.stringify(kept[part]) !== JSON.stringify(counted[part]))
      faults.push(
        `the kept ${part} differ from a recount (${kept[part].length} rows, ${counted[part].length})`,
      )
  }
  if (counted.visits.length === 0) faults.push('there is no visit at all: nothing was tried')
  return faults
}

function boxesSeenIn(hash: Buffer): number {
  return stubLook(hash, { name: '', version: '', detectorSha256: '', namerSha256: null }).found.length
}
