/** A points file changes of a known point what its row holds, and nothing else. */
import { afterEach, beforeEach, expect, test } from 'vitest'
import { readPointsFile } from '../../services/http/points-file.ts'
import { findPoint, listPoints, putPoints } from '../../services/store/points.ts'
import { openSmallStation, type SmallStation } from './small-station.ts'

/** A known point of which no field has the value that a new one gets. */
const KNOWN = 'name,kind,lat,lon,yard,order,lowMarkPercent,dryMarkPercent\nLark Dam,dam,-28,135,yes,7,60,20\n'

let station: SmallStation
beforeEach(async () => {
  station = await openSmallStation()
  await load(KNOWN)
})
afterEach(() => station.close())

const load = (text: string, kind: 'csv' | 'geojson' = 'csv') =>
  putPoints(station.ledger, readPointsFile(text, kind))
const larkDam = async () => (await listPoints(station.ledger)).find(({ name }) => name === 'Lark Dam')

test('a row with a new place alone moves the point; kind, yard, order and marks stay', async () => {
  const before = await larkDam()
  const { added, changed } = await load('name,lat,lon\nLark Dam,-28.5,135.5\n')
  expect([added.length, changed.length]).toEqual([0, 1])
  expect(await larkDam()).toEqual({ ...before, lat: -28.5, lon: 135.5 })
})

test('an empty cell leaves its field as it is, one that holds something changes it', async () => {
  const before = await larkDam()
  await load('name,kind,lat,lon,yard,order,lowMarkPercent,dryMarkPercent\nLark Dam,,-28,135,no,,,0\n')
  expect(await larkDam()).toEqual({ ...before, has_yard: false, dry_mark_percent: 0 })
})

test('GeoJSON does the same with the properties that stand there', async () => {
  const before = await larkDam()
  const feature = {
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [135, -28] },
    properties: { name: 'Lark Dam', kind: 'turkey nest' },
  }
  await load(JSON.stringify({ type: 'FeatureCollection', features: [feature] }), 'geojson')
  expect(await larkDam()).toEqual({ ...before, kind: 'turkey nest' })
})

test('a new point gets the usual values of what its row leaves out, and the end of the run', async () => {
  const { added } = await load('name,lat,lon\nPlover Soak,-28.2,135.2\n')
  expect(await findPoint(station.ledger, added[0]?.id ?? 0)).toMatchObject({
    kind: 'bore',
    has_yard: false,
    run_order: 8,
    low_mark_percent: 40,
    dry_mark_percent: 5,
  })
})
