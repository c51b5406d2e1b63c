import { expect, it } from 'vitest'
import { drive } from './drive.ts'
import { openEmbedded } from './embedded.ts'

const quiet = { log: () => undefined }

it.skipIf(process.platform !== 'linux')(
  'a station in one piece, killed seven times at random: nothing acknowledged is lost, nothing is counted twice',
  async () => {
    const household = await openEmbedded()
    try {
      const { faults, acknowledged } = await drive(household, { seed: 7, kills: 7, photos: 150, ...quiet })
      expect(faults).toEqual([])
      expect(acknowledged).toBe(150)
    } finally {
      await household.stop()
    }
  },
  300_000,
)
