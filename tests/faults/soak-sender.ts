/** A sender over a bad link: it sends photos, breaks off in the middle, sends again what was answered, and keeps the rest. */
import { request } from 'node:http'
import { photoLike } from '../integration/stub-photos.ts'
import type { Chance } from '../unit/tally/chance.ts'

export interface MoodySender {
  step(address: string): Promise<void>
  /** Sends until all that it has made is answered for; `pass` lets time go by. */
  finish(address: string, pass: () => void): Promise<void>
  acknowledged(): readonly Buffer[]
  /** Answers that said to wait. */
  waits(): number
}

export function openMoodySender(key: string, chance: Chance): MoodySender {
  const kept: Buffer[] = []
  const acknowledged: Buffer[] = []
  let made = 0
  let waits = 0

  async function send(address: string, photo: Buffer): Promise<boolean> {
    const byLink = chance.uniform() < 0.5
    const path = byLink ? `/api/k/${key}/stills` : '/api/stills'
    const response = await fetch(`${address}${path}`, {
      method: 'POST',
      headers: byLink ? {} : { 'X-Camera-Key': key },
      body: new Uint8Array(photo),
    }).catch(() => null)
    await response?.arrayBuffer().catch(() => undefined)
    if (response?.status === 429 || response?.status === 503) waits += 1
    return response?.status === 200 || response?.status === 201
  }

  async function sendKept(address: string): Promise<void> {
    for (const photo of [...kept]) {
      if (!(await send(address, photo))) return
      acknowledged.push(photo)
      kept.splice(kept.indexOf(photo), 1)
    }
  }

  return {
    async step(address) {
      if (chance.uniform() < 0.6) {
        made += 1
        kept.push(await photoLike(`sent ${made} ${chance.whole(0, 1e9)}`))
      }
      const [first] = kept
      if (first !== undefined && chance.uniform() < 0.25) await breakOff(address, { key, photo: first })
      const again = acknowledged[chance.whole(0, acknowledged.length)]
      if (again !== undefined && chance.uniform() < 0.15) await send(address, again)
      await sendKept(address)
    },
    async finish(address, pass) {
      for (let tries = 0; kept.length > 0 && tries < 500; tries += 1) {
        await sendKept(address)
        pass()
      }
      if (kept.length > 0) throw new Error(`${kept.length} photos are not taken`)
    },
    acknowledged: () => acknowledged,
    waits: () => waits,
  }
}

/** Says how long the photo is, sends a part and goes. */
function breakOff(
  address: string,
  { key, photo }: { readonly key: string; readonly photo: Buffer },
): Promise<void> {
  return new Promise((resolve) => {
    const sending = request(`${address}/api/stills`, {
      method: 'POST',
      headers: { 'X-Camera-Key': key, 'Content-Length': photo.length },
    })
    sending.on('error', () => undefined).on('close', resolve)
    sending.write(photo.subarray(0, 100), () => sending.destroy())
  })
}
