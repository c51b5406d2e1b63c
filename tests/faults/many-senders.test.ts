/** Five hundred cameras that send at once over slow links, to the service as a process of its own. */
import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { randomFor } from '../../services/demo/random.ts'
import { type EmbeddedHousehold, openEmbedded } from './embedded.ts'
import { distinctPhotos } from './photos.ts'
import { until } from './service-process.ts'
import { type Habit, type SlowlySent, type SlowPhoto, sendSlowly, slowNameOf } from './slow-links.ts'
import { faultsOf } from './what-stands.ts'

const SENDERS = 500
const SEED = 11
const MIB = 1024 ** 2
/** Under a sixth of what the senders send together. */
const ROOM_MB = 64
const PHOTO_BYTES = 800_000
const PATIENCE_MS = 6_000
/** Of each ten senders. */
const HABITS: readonly Habit[] = [
  ...['whole', 'whole', 'twice', 'whole', 'breaks'],
  ...['whole', 'silent', 'whole', 'trickles', 'whole'],
] as Habit[]
const FIRST_PHOTO = Date.UTC(2026, 9, 1, 9)
/**
 * Beside the photos that are held: once more as much, which was written down and is not cleared away yet; 64 KB for each
 * connection, which is what Node.js reads at once; and what a busy process takes besides.
 */
const ALLOWED_BYTES = 2 * ROOM_MB * MIB + SENDERS * 64 * 1024 + 64 * MIB

const onLinux = process.platform === 'linux'
let household: EmbeddedHousehold
let photos: readonly SlowPhoto[]
let sent: SlowlySent
let grownBytes: number

/** The most a process ever had in memory (proc(5), VmHWM). */
async function peakBytes(pid: number): Promise<number> {
  const kilobytes = /^VmHWM:\s+(\d+) kB$/m.exec(await readFile(`/proc/${pid}/status`, 'utf8'))?.[1]
  if (kilobytes === undefined) throw new Error(`process ${pid} tells no VmHWM`)
  return Number(kilobytes) * 1024
}

async function filesBelow(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true })
  return entries.filter((entry) => entry.isFile()).map(({ name }) => name)
}

beforeAll(async () => {
  if (!onLinux) return
  household = await openEmbedded({
    HOOFTALLY_INTAKE_MEMORY_MB: String(ROOM_MB),
    STUB_SENDER_PATIENCE_MS: String(PATIENCE_MS),
  })
  const own = await distinctPhotos(SENDERS, 'slow')
  // What follows a JPEG's end is no part of the picture, and comes over the link all the same.
  const padding = Buffer.alloc(PHOTO_BYTES, 'not a picture ')
  photos = own.map((bytes, i) => ({
    camera: household.cameras[i % household.cameras.length]!,
    parts: [bytes, padding],
    takenAt: new Date(FIRST_PHOTO + i * 60_000),
    habit: HABITS[i % HABITS.length]!,
  }))
  const before = await peakBytes(household.pid())
  sent = await sendSlowly(photos, { address: household.address, random: randomFor(SEED, 'links') })
  await until('no photo waits', async () => (await household.waiting()) === 0)
  grownBytes = (await peakBytes(household.pid())) - before
  console.log(
    'PEAK',
    photos.filter((p) => p.habit === 'silent' || p.habit === 'trickles').length,
    before / MIB,
    grownBytes / MIB,
    ALLOWED_BYTES / MIB,
    JSON.stringify(sent.answers),
    sent.cutOff,
  )
}, 400_000)
afterAll(() => household?.stop())

const namesOf = (...habits: Habit[]) =>
  photos
    .filter(({ habit }) => habits.includes(habit))
    .map(slowNameOf)
    .sort()

it.skipIf(!onLinux)(
  'every photo that was sent whole is acknowledged, some after they were told to wait',
  () => {
    expect([...sent.acknowledged].sort()).toEqual(namesOf('whole', 'twice'))
    expect(sent.answers['503']).toBeGreaterThan(0)
  },
)

it.skipIf(!onLinux)('those that never end are cut off by the service', () => {
  expect(sent.cutOff).toBe(namesOf('silent', 'trickles').length)
})

it.skipIf(!onLinux)('no answer says anything else', () => {
  expect(['200', '201', '408', '503', 'none']).toEqual(expect.arrayContaining(Object.keys(sent.answers)))
})

it.skipIf(!onLinux)('the memory of the service stays within what the bound allows', () => {
  expect(grownBytes).toBeLessThan(ALLOWED_BYTES)
})

it.skipIf(!onLinux)(
  'what was acknowledged is there whole and once, and nothing else is, aside neither',
  async () => {
    const { ledger, files } = await household.station()
    try {
      expect(await faultsOf({ ledger, files, acknowledged: sent.acknowledged })).toEqual([])
      const rows = await ledger.selectFrom('stills').select(['camera_id', 'hash']).execute()
      const there = rows.map(({ camera_id, hash }) => `${camera_id} ${hash.toString('hex')}`)
      expect(there.sort()).toEqual([...sent.acknowledged].sort())
      const stills = join(household.data, 'stills')
      expect(await filesBelow(join(stills, 'aside'))).toEqual([])
      expect((await filesBelow(join(stills, 'whole'))).sort()).toEqual(
        rows.map(({ hash }) => hash.toString('hex')).sort(),
      )
    } finally {
      await ledger.destroy()
    }
  },
)
