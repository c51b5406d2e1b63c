import { expect, it } from 'vitest'
import { noRedis } from '../integration/redis-server.ts'
import { drive, type Household } from './drive.ts'
import { openEmbedded } from './embedded.ts'
import { openScaled } from './scaled.ts'

/** `npm run faults` does the same for longer, with other seeds. */
async function expectAllStands(open: () => Promise<Household>, { kills }: { readonly kills: number }) {
  const household = await open()
  try {
    const photos = kills * 20
    const { faults, acknowledged } = await drive(household, { seed: 7, kills, photos, log: () => undefined })
    expect(faults).toEqual([])
    expect(acknowledged).toBe(photos)
  } catch (fault) {
    process.stderr.write(household.output())
    throw fault
  } finally {
    await household.stop()
  }
}

const onLinux = process.platform === 'linux'

it.skipIf(!onLinux)(
  'a station in one piece, killed six times at random: nothing acknowledged is lost, nothing counted twice',
  () => expectAllStands(() => openEmbedded(), { kills: 6 }),
  400_000,
)

it.skipIf(!onLinux || noRedis !== null)(
  `a station with workers and Redis, killed nine times at random: the same${noRedis === null ? '' : ` (skipped: ${noRedis})`}`,
  () => expectAllStands(openScaled, { kills: 9 }),
  400_000,
)
