/** Whoever leaves files in a drop folder: whole at once, in pieces, under another name first, never whole, or no photo. */
import { appendFile, mkdir, rename, writeFile } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { photoLike } from '../integration/stub-photos.ts'
import type { Chance } from '../unit/tally/chance.ts'

export interface MoodyWriter {
  /** Goes on with what it has begun, and now and then begins another. */
  step(): Promise<void>
  /** Finishes what it has begun. */
  finish(): Promise<void>
  /** Photos that it has left whole. */
  whole(): readonly Buffer[]
  /** Files that never become a photo. */
  never(): number
}

interface Open {
  readonly path: string
  /** Its name until it is whole, or null. */
  readonly partPath: string | null
  readonly bytes: Buffer
  at: number
}

const BEGINS = 0.5

export function openMoodyWriter(folder: string, chance: Chance): MoodyWriter {
  const whole: Buffer[] = []
  let open: Open[] = []
  let made = 0
  let never = 0

  async function begin(): Promise<void> {
    made += 1
    const bytes = await photoLike(`dropped ${made} ${chance.whole(0, 1e9)}`)
    const name = chance.uniform() < 0.2 ? `2026/11/${made}.jpg` : `IMG ${made}.jpg`
    const path = join(folder, name)
    await mkdir(dirname(path), { recursive: true })
    const mood = chance.uniform()
    if (mood < 0.1) {
      never += 1
      const cut = chance.uniform() < 0.5 ? bytes.subarray(0, 200) : Buffer.from(`battery log ${made}`)
      return await writeFile(path, cut)
    }
    if (mood < 0.4) {
      await writeFile(path, bytes)
      whole.push(bytes)
      return
    }
    const partPath = mood < 0.55 ? join(dirname(path), `.part ${made}`) : null
    await writeFile(partPath ?? path, bytes.subarray(0, 1))
    open.push({ path, partPath, bytes, at: 1 })
  }

  async function goOn(file: Open, by: number): Promise<void> {
    const to = Math.min(file.bytes.length, file.at + by)
    await appendFile(file.partPath ?? file.path, file.bytes.subarray(file.at, to))
    file.at = to
    if (to < file.bytes.length) return
    if (file.partPath !== null) await rename(file.partPath, file.path)
    whole.push(file.bytes)
    open = open.filter((one) => one !== file)
  }

  return {
    async step() {
      // Some stall for a while: nothing is written to them in this step.
      for (const file of open) if (chance.uniform() < 0.6) await goOn(file, chance.whole(1, 250))
      if (chance.uniform() < BEGINS) await begin()
    },
    async finish() {
      for (const file of open) await goOn(file, file.bytes.length)
    },
    whole: () => whole,
    never: () => never,
  }
}
