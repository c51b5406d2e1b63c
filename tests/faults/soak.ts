/**
 * An hour on a station's clock, in minutes on ours: every way in at once, with time-outs, resets, half bodies, 401 storms,
 * clocks that are set, and restarts in the middle. Then every photo that was answered for must be there once.
 */
import { createHash } from 'node:crypto'
import { chmod, mkdir, mkdtemp, readdir, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { builtFile } from '../../services/paths.ts'
import { type Running, startService } from '../../services/serve.ts'
import { parseInstant } from '../../services/station-time.ts'
import type { Instant } from '../../services/words.ts'
import { keptAggregates, recountFromNothing } from '../integration/recount.ts'
import { chanceFrom } from '../unit/tally/chance.ts'
import { PASSWORD, startMoodyCamera, USER } from './soak-camera.ts'
import { openMoodySender } from './soak-sender.ts'
import { openMoodyWriter } from './soak-writer.ts'

export interface SoakOptions {
  readonly seed: number
  /** Steps of ten seconds of the station's clock; 360 are an hour. */
  readonly steps: number
  readonly restarts: number
  /** Absent: an embedded database. */
  readonly databaseUrl?: string | undefined
  readonly log: (line: string) => void
}

export interface SoakResult {
  readonly told: readonly string[]
  readonly faults: readonly string[]
}

const STEP_MS = 10_000
/** Few enough that a sender is told to wait now and then. */
const A_MINUTE = 3
/** Longer than a file is waited for until it is set aside. */
const SETTLES_MINUTES = 45
const hashOf = (bytes: Buffer) => createHash('sha256').update(bytes).digest('hex')

export async function soak({ seed, steps, restarts, databaseUrl, log }: SoakOptions): Promise<SoakResult> {
  const chance = chanceFrom(seed)
  const folder = await mkdtemp(join(tmpdir(), 'hooftally-soak-'))
  // As root PostgreSQL runs as another user, who has to get in.
  await chmod(folder, 0o755)
  const dropRoot = join(folder, 'drop')
  await mkdir(join(dropRoot, 'gate'), { recursive: true })
  let now = parseInstant('2026-11-25T06:10:00+10:30')
  const camera = await startMoodyCamera(chanceFrom(seed + 1))
  const unforeseen: string[] = []
  const start = () =>
    startService(
      {
        port: 0,
        host: '127.0.0.1',
        dataFolder: join(folder, 'data'),
        databaseUrl,
        dropRoots: [dropRoot],
        cameraHosts: ['127.0.0.1'],
      },
      {
        now: () => now,
        eyeEntry: builtFile('tests/stub-eye.js'),
        log: (line) => {
          if (/fault|Error:|not foresee/.test(line)) unforeseen.push(line)
        },
      },
    )
  let running: Running = await start()
  try {
    const { ids, key } = await setUp(running, camera.address)
    const sender = openMoodySender(key, chanceFrom(seed + 2))
    const writer = openMoodyWriter(join(dropRoot, 'gate'), chanceFrom(seed + 3))
    const counts = { restarts: 0, clockSteps: 0 }
    const restartEvery = Math.ceil(steps / (restarts + 1))
    for (let step = 0; step < steps; step += 1) {
      now = (now + STEP_MS) as Instant
      if (chance.uniform() < 0.05) {
        counts.clockSteps += 1
        now = (now + chance.whole(-7_200, 3_600) * 1_000) as Instant
      }
      const address = running.address
      const work = [sender.step(address), writer.step(), running.house.sources.round()]
      if ((step + 1) % restartEvery === 0) {
        counts.restarts += 1
        // In the middle of it all.
        await running.stop()
        await Promise.allSettled(work)
        running = await start()
      }
      await Promise.all(work)
      if (step % 60 === 59) log(`step ${step + 1} of ${steps}`)
    }
    await writer.finish()
    await sender.finish(running.address, () => {
      now = (now + STEP_MS) as Instant
    })
    // What lies in the folder settles, and what never will is set aside.
    for (let minute = 0; minute < SETTLES_MINUTES; minute += 1) {
      now = (now + 60_000) as Instant
      await running.house.sources.round()
    }
    const sent = [...sender.acknowledged(), ...writer.whole()]
    const faults = [
      ...(await photoFaults(running, { sent, maybe: camera.given() })),
      ...(await folderFaults(join(dropRoot, 'gate'), {
        taken: writer.whole().length,
        aside: writer.never(),
      })),
      ...(await countFaults(running)),
      ...unforeseen,
    ]
    const fetched = (await stillsOf(running, ids.fetched)).length
    return {
      told: [
        `${sender.acknowledged().length} photos sent and answered for, ${writer.whole().length} left in the folder, ${fetched} of ${camera.given().length} that the camera gave fetched`,
        `moods of the camera: ${Object.entries(camera.moods)
          .map(([mood, times]) => `${mood} ${times}`)
          .join(', ')}`,
        `${counts.restarts} restarts, ${counts.clockSteps} times the clock was set, ${sender.waits()} times told to wait, ${writer.never()} files that never became a photo`,
      ],
      faults,
    }
  } finally {
    await running.stop()
    await camera.close()
    await rm(folder, { recursive: true, force: true })
  }
}

async function setUp({ address }: Running, cameraAddress: string) {
  const tell = async (method: string, path: string, body: object) => {
    const response = await fetch(`${address}${path}`, {
      method,
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify(body),
    })
    const answer = (await response.json()) as Record<string, { id: number }> & { key: string }
    if (!response.ok) throw new Error(JSON.stringify(answer))
    return answer
  }
  const limits = { stillMegabytes: 30, megapixels: 100, stillsAMinute: A_MINUTE, stillsADay: null }
  await tell('PUT', '/api/intake-limits', limits)
  const homestead = { lat: -28.1, lon: 135.2 }
  await tell('PUT', '/api/station', { name: 'Thornbill Plains', zone: 'Australia/Adelaide', homestead })
  const { point } = await tell('POST', '/api/points', { name: 'Wren Bore', lat: -28, lon: 135 })
  const add = (name: string) => tell('POST', '/api/cameras', { name, pointId: point!.id })
  const [sent, dropped, fetched] = [await add('sent'), await add('dropped'), await add('fetched')]
  await tell('POST', `/api/cameras/${dropped.camera!.id}/sources`, {
    kind: 'drop folder',
    settings: { folder: 'gate' },
  })
  await tell('POST', `/api/cameras/${fetched.camera!.id}/sources`, {
    kind: 'snapshot',
    settings: {
      address: cameraAddress,
      user: USER,
      password: PASSWORD,
      everyMinutes: 0.5,
      timeoutSeconds: 1,
    },
  })
  return { key: sent.key, ids: { fetched: fetched.camera!.id } }
}

async function stillsOf({ house }: Running, cameraId?: number): Promise<string[]> {
  const rows = await house.ledger
    .selectFrom('stills')
    .select('hash')
    .$if(cameraId !== undefined, (query) => query.where('camera_id', '=', cameraId!))
    .execute()
  return rows.map(({ hash }) => hash.toString('hex'))
}

/** Each that was answered for is there once, with its bytes; nothing is there that nobody sent. */
async function photoFaults(
  running: Running,
  { sent, maybe }: { readonly sent: readonly Buffer[]; readonly maybe: readonly Buffer[] },
): Promise<string[]> {
  const there = await stillsOf(running)
  const times = new Map<string, number>()
  for (const hash of there) times.set(hash, (times.get(hash) ?? 0) + 1)
  const faults: string[] = []
  for (const photo of sent) {
    const hash = hashOf(photo)
    if (times.get(hash) !== 1)
      faults.push(`a photo that was answered for is there ${times.get(hash) ?? 0} times`)
    const bytes = await running.house.files.read(Buffer.from(hash, 'hex'))
    if (bytes?.equals(photo) !== true) faults.push('the bytes of a photo that was answered for are gone')
  }
  const known = new Set([...sent, ...maybe].map(hashOf))
  for (const [hash, count] of times) {
    if (count > 1) faults.push('a photo is there twice')
    if (!known.has(hash)) faults.push('a photo is there that nobody sent whole')
  }
  return faults
}

async function folderFaults(
  folder: string,
  { taken, aside }: { readonly taken: number; readonly aside: number },
): Promise<string[]> {
  const files = async (name: string) => {
    const entries = await readdir(join(folder, name), { recursive: true, withFileTypes: true }).catch(
      () => [],
    )
    return entries.filter((entry) => entry.isFile()).length
  }
  const left = (await readdir(folder, { withFileTypes: true })).filter((entry) => entry.isFile())
  return [
    ...(left.length > 0 ? [`${left.length} files still lie in the folder`] : []),
    ...((await files('taken')) === taken
      ? []
      : [`${await files('taken')} files are taken, ${taken} were whole`]),
    ...((await files('set aside')) === aside
      ? []
      : [`${await files('set aside')} files are set aside, ${aside} never became a photo`]),
  ]
}

async function countFaults({ house }: Running): Promise<string[]> {
  const waiting = async () =>
    (await house.ledger.selectFrom('stills').select('id').where('state', '=', 'received').execute()).length
  for (let tries = 0; tries < 300 && (await waiting()) > 0; tries += 1)
    await new Promise((resolve) => setTimeout(resolve, 100))
  if ((await waiting()) > 0) return [`${await waiting()} photos were never looked at`]
  const [kept, counted] = [await keptAggregates(house.ledger), await recountFromNothing(house.ledger)]
  return JSON.stringify(kept) === JSON.stringify(counted) ? [] : ['what is kept is not what a recount gives']
}
