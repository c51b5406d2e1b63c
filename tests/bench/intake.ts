/** How many photos a second the API takes, each on disk and in the ledger before it is acknowledged (fsync on). */
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { Agent, request } from 'node:http'
import { availableParallelism, tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { demoStillsFolder } from '../../services/paths.ts'
import { freePort } from '../../services/store/embedded/start-stop.ts'
import { keepStubService } from '../faults/household.ts'
import { distinctPhotos } from '../faults/photos.ts'
import type { SendingCamera } from '../faults/senders.ts'
import { setUpStation } from '../faults/station-to-kill.ts'

const PHOTOS = 4_000
/** Sent first and not counted: code is compiled and connections are opened by them. */
const WARM_UP = 600
const SENDERS = 32
const MS_BETWEEN = 60_000
const FIRST_PHOTO = Date.UTC(2026, 9, 1)

export async function benchIntake(): Promise<void> {
  const data = await mkdtemp(join(tmpdir(), 'hooftally-bench-'))
  await chmod(data, 0o755)
  const port = await freePort()
  const address = `http://127.0.0.1:${port}`
  const service = keepStubService({ data, port })
  await service.start()
  try {
    const cameras = await setUpStation(address)
    const picture = await sharp(join(demoStillsFolder, 'galah-well-08.jpg'))
      .resize(640, 360)
      .jpeg()
      .toBuffer()
    const photos = await distinctPhotos(WARM_UP + PHOTOS, 'bench', picture)
    await send(photos.slice(0, WARM_UP), { address, cameras })
    const { seconds, latenciesMs } = await send(photos.slice(WARM_UP), { address, cameras })
    const sorted = latenciesMs.toSorted((a, b) => a - b)
    const at = (share: number) => (sorted[Math.floor(sorted.length * share)] ?? Number.NaN).toFixed(0)
    console.log(
      `intake: ${PHOTOS} photos of 640 x 360 (${(picture.length / 1024).toFixed(0)} kB), ${SENDERS} senders on this machine too, stub eye, ${availableParallelism()} cores`,
    )
    console.log(
      `intake: ${(PHOTOS / seconds).toFixed(0)} photos a second; acknowledged after ${at(0.5)} ms (median), ${at(0.99)} ms (p99)`,
    )
  } finally {
    await service.stop()
    await rm(data, { recursive: true, force: true })
  }
}

async function send(
  photos: readonly Buffer[],
  { address, cameras }: { address: string; cameras: readonly SendingCamera[] },
) {
  const agent = new Agent({ keepAlive: true, maxSockets: SENDERS })
  const latenciesMs: number[] = []
  let next = 0
  const lane = async () => {
    while (next < photos.length) {
      const number = next++
      const camera = cameras[number % cameras.length]!
      const from = performance.now()
      const status = await post(new URL('/api/stills', address), {
        agent,
        bytes: photos[number]!,
        headers: {
          'X-Camera-Key': camera.key,
          'X-Taken-At': new Date(FIRST_PHOTO + number * MS_BETWEEN).toISOString(),
          'Content-Type': 'image/jpeg',
        },
      })
      if (status !== 201) throw new Error(`a photo was answered with ${status}`)
      latenciesMs.push(performance.now() - from)
    }
  }
  const from = performance.now()
  await Promise.all(Array.from({ length: SENDERS }, lane))
  const seconds = (performance.now() - from) / 1000
  agent.destroy()
  return { seconds, latenciesMs }
}

function post(
  url: URL,
  { agent, bytes, headers }: { agent: Agent; bytes: Buffer; headers: Record<string, string> },
): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    const asking = request(url, {
      method: 'POST',
      agent,
      headers: { ...headers, 'Content-Length': bytes.length },
    })
    asking.once('error', reject)
    asking.once('response', (response) => {
      response.resume()
      response.once('end', () => resolve(response.statusCode))
    })
    asking.end(bytes)
  })
}
