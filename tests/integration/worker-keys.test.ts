/** Keys of workers: asked for many times a second, and ended at once. */
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { hashOfKey } from '../../services/store/camera-keys.ts'
import { addWorkerKey, findWorkerKey, revokeWorkerKey } from '../../services/store/worker-keys.ts'
import type { Instant } from '../../services/words.ts'
import { openSmallStation, type SmallStation } from './small-station.ts'

const NOW = Date.UTC(2026, 9, 2) as Instant
/** How long a key that another process revoked works here (docs/workers.md). */
const KNOWN_MS = 5_000

let station: SmallStation
let id: number
let key: string
beforeEach(async () => {
  station = await openSmallStation()
  const made = await addWorkerKey(station.ledger, { name: 'Shed', now: NOW })
  id = made.workerKey.id
  key = made.key
})
afterEach(async () => {
  vi.restoreAllMocks()
  await station.close()
})

test('one that is revoked here works no more, also for a request that was on its way', async () => {
  expect(await findWorkerKey(station.ledger, key)).toBe(id)
  await Promise.all([revokeWorkerKey(station.ledger, id, NOW), findWorkerKey(station.ledger, key)])
  expect(await findWorkerKey(station.ledger, key)).toBeNull()
})

test('one that another process revoked ends within five seconds', async () => {
  let nowMs = 1_000
  vi.spyOn(performance, 'now').mockImplementation(() => nowMs)
  expect(await findWorkerKey(station.ledger, key)).toBe(id)
  await station.ledger
    .updateTable('worker_keys')
    .set({ revoked_at: new Date(NOW) })
    .execute()
  nowMs += KNOWN_MS
  // The ledger is not asked for every request.
  expect(await findWorkerKey(station.ledger, key)).toBe(id)
  nowMs += 1
  expect(await findWorkerKey(station.ledger, key)).toBeNull()
})

test('one that does not work is asked for again: it may be made by another process at any time', async () => {
  expect(await findWorkerKey(station.ledger, 'later')).toBeNull()
  await station.ledger
    .updateTable('worker_keys')
    .set({ key_hash: hashOfKey('later') })
    .execute()
  expect(await findWorkerKey(station.ledger, 'later')).toBe(id)
})
