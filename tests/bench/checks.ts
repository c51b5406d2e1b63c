/** How long a person's word on a visit of three photos takes to be written down and answered (fsync on). */
import { createHash, randomUUID } from 'node:crypto'
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { builtFile } from '../../services/paths.ts'
import { startService } from '../../services/serve.ts'
import type { Ledger } from '../../services/store/open.ts'
import { receiveStills } from '../../services/store/receive.ts'
import { recordResults } from '../../services/store/results.ts'
import { nightOf } from '../../services/tally/nights.ts'
import type { Instant, Zone } from '../../services/words.ts'
import { setUpStation } from '../faults/station-to-kill.ts'
import { stubLook } from '../stub-look.ts'

const CARDS = 200
/** Said first and not counted: code is compiled and statements are planned by them. */
const WARM_UP = 50
const PHOTOS_A_CARD = 3
const BETWEEN_VISITS_MS = 45 * 60_000
const BETWEEN_PHOTOS_MS = 5 * 60_000
const FIRST_PHOTO = Date.UTC(2026, 9, 1)
const ZONE = 'Australia/Adelaide' as Zone
const MODELS = { name: 'made-up', version: '1', detectorSha256: 'd'.repeat(64), namerSha256: null }

export async function benchChecks(): Promise<void> {
  const dataFolder = await mkdtemp(join(tmpdir(), 'hooftally-bench-'))
  await chmod(dataFolder, 0o755)
  const service = await startService(
    { port: 0, host: '127.0.0.1', dataFolder, databaseUrl: undefined },
    { log: () => undefined, eyeEntry: builtFile('tests/stub-eye.js') },
  )
  try {
    const [camera] = await setUpStation(service.address)
    const cards = await madeUpCards(service.house.ledger, camera!.id)
    const times: number[] = []
    for (const [number, stillIds] of cards.entries()) {
      const ms = await say(service.address, stillIds, number)
      if (number >= WARM_UP) times.push(ms)
    }
    const sorted = times.toSorted((a, b) => a - b)
    const at = (place: number) => sorted[place]!.toFixed(1)
    console.log(
      `checks: a word on a visit of ${PHOTOS_A_CARD} photos is answered after ${at(CARDS / 2)} ms (median of ${CARDS}), ${at(CARDS - 1)} ms at the slowest`,
    )
  } finally {
    await service.stop()
    await rm(dataFolder, { recursive: true, force: true })
  }
}

/** Visits at one point, each further from the next than the gap; what is on them is made up. @returns their photos' ids */
async function madeUpCards(ledger: Ledger, cameraId: number): Promise<number[][]> {
  const { point_id: pointId } = await ledger
    .selectFrom('cameras')
    .select('point_id')
    .where('id', '=', cameraId)
    .executeTakeFirstOrThrow()
  const cards: number[][] = []
  for (let visit = 0; visit < WARM_UP + CARDS; visit += 1) {
    const hashes = Array.from({ length: PHOTOS_A_CARD }, (_, photo) =>
      createHash('sha256').update(`${visit} ${photo}`).digest(),
    )
    const received = await receiveStills(
      ledger,
      hashes.map((hash, photo) => {
        const takenAt = (FIRST_PHOTO + visit * BETWEEN_VISITS_MS + photo * BETWEEN_PHOTOS_MS) as Instant
        return {
          cameraId,
          pointId,
          hash,
          bytes: 1,
          format: 'jpeg',
          width: 640,
          height: 360,
          fileName: null,
          takenAt,
          takenFrom: 'sender' as const,
          clockDoubt: null,
          night: nightOf(takenAt, ZONE),
          receivedAt: takenAt,
          unreadableReason: null,
        }
      }),
    )
    await recordResults(
      ledger,
      received.map(({ id }, photo) => {
        const looked = stubLook(hashes[photo]!, MODELS)
        if (looked.kind !== 'seen') throw new Error('the stub eye read no photo')
        return {
          stillId: id,
          result: { ...looked, found: looked.found.map((one) => ({ ...one, runnerUp: 0.01 })) },
        }
      }),
    )
    cards.push(received.map(({ id }) => id))
  }
  return cards
}

/** Every other one is agreed to, the rest put right, so that visits and nights follow. @returns milliseconds */
async function say(address: string, stillIds: readonly number[], number: number): Promise<number> {
  const words = stillIds.map((stillId, photo) =>
    number % 2 === 0
      ? { stillId, verdict: 'agreed' }
      : { stillId, verdict: 'corrected', counts: { camel: photo + 2, goat: 1 } },
  )
  const from = performance.now()
  const answer = await fetch(`${address}/api/checks`, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json' },
    body: JSON.stringify({ batch: randomUUID(), words }),
  })
  await answer.arrayBuffer()
  if (answer.status !== 201) throw new Error(`a word was answered with ${answer.status}`)
  return performance.now() - from
}
