/** What the demo's owner says of trap yards: enough that its gate plan holds the whole cluster of its camels. */
import { afterAll, beforeAll, expect, test } from 'vitest'
import { sayYardsInDemo } from '../../services/demo/yards.ts'
import { trapYardsOf } from '../../services/http/trap-yards-answer.ts'
import { parseInstant } from '../../services/station-time.ts'
import { listYardPlans } from '../../services/store/yard-plans.ts'
import { readYardMeans } from '../../services/store/yard-words.ts'
import { openSeededStation, type SeededStation } from './seeded-waters.ts'
import { openSmallStation, type SmallStation } from './small-station.ts'

const NOW = parseInstant('2026-11-25T12:30:00+10:30')
const now = () => NOW
let seeded: SeededStation
let empty: SmallStation

beforeAll(async () => {
  seeded = await openSeededStation(1)
  empty = await openSmallStation()
})
afterAll(async () => {
  await seeded.station.close()
  await empty.close()
})

test('other water is sure at the cluster with the most head, and a plan holds all of it', async () => {
  const { ledger } = seeded.station
  await sayYardsInDemo({ ledger, now })
  const { clusters, points } = await trapYardsOf(ledger, { species: 'camel', now: NOW })
  const [shared] = clusters
  expect(shared!.head!.rate).toBe(Math.max(...clusters.map(({ head }) => head?.rate ?? 0)))
  const sure = points.filter(({ otherWater }) => otherWater.state === 'sure').map(({ pointId }) => pointId)
  expect(sure).toEqual(shared!.pointIds)
  const plans = await listYardPlans(ledger)
  expect(plans).toMatchObject([{ plan: { pointIds: shared!.pointIds }, shown: { closedWhole: true } }])
  // A demo that is started again says nothing twice.
  await sayYardsInDemo({ ledger, now })
  expect(await listYardPlans(ledger)).toEqual(plans)
})

test('with waters that nobody watched long enough nothing is said to be sure', async () => {
  const { ledger } = empty
  await sayYardsInDemo({ ledger, now })
  expect((await readYardMeans(ledger)).portableYards).toBeGreaterThan(0)
  expect(await listYardPlans(ledger)).toEqual([])
  const { points } = await trapYardsOf(ledger, { species: 'camel', now: NOW })
  expect(points.map(({ otherWater }) => otherWater.state)).toEqual(['not said'])
})
