/** The station's own namer on a station it does not know; bound: a quarter of false names saved (scikit-learn got 25 to 34 %). */
import { expect, test } from 'vitest'
import { readStationCrops, sumUp, trySplit } from './station-namer.ts'

const SPLITS = 10

test('after 30 checked crops a kind, at least a quarter of false names on unseen nights are saved', async () => {
  const crops = await readStationCrops()
  const { baseWrong, stationWrong, saved } = sumUp(
    Array.from({ length: SPLITS }, (_, split) => trySplit(crops, split)),
  )
  console.log(
    `wrong names on unseen nights: ${(100 * baseWrong).toFixed(1)} % as it comes, ${(100 * stationWrong).toFixed(1)} % ` +
      `with the station's own, over ${SPLITS} splits`,
  )
  expect(crops).toHaveLength(519)
  expect(saved).toBeGreaterThanOrEqual(0.25)
}, 600_000)
