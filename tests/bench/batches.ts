/** Whether the namer is faster on many crops at once: what stills that share a batch would gain. */
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import ort from 'onnxruntime-node'
import sharp from 'sharp'
import { demoStillsFolder, modelsFolder } from '../../services/paths.ts'
import { readModels } from '../../worker/eye/manifest.ts'
import { MAX_CROPS_A_RUN } from '../../worker/eye/namer.ts'
import { sessionOptions } from '../../worker/eye/sessions.ts'

const SIZES = [1, 2, 4, 8, 16, 32]
const CROPS_A_ROUND = 32
/** In turn, so that what else the machine does falls on all sizes alike; the median is taken. */
const ROUNDS = 3

/** Prints processor time a crop for each size of batch, in one thread. */
export async function benchBatches(): Promise<void> {
  const { namer } = await readModels(modelsFolder)
  if (!namer) throw new Error('the bench needs a namer')
  const { sidePx, inputName } = namer
  const session = await ort.InferenceSession.create(
    namer.bytes,
    sessionOptions({ onnxThreads: 1, providers: ['cpu'] }),
  )
  const crop = await sharp(await readFile(join(demoStillsFolder, 'galah-well-04.jpg')))
    .resize(sidePx, sidePx, { fit: 'fill' })
    .raw()
    .toBuffer()
  const msPerCrop = new Map<number, number[]>()
  for (let round = 0; round <= ROUNDS; round++)
    for (const size of SIZES) {
      const batch = new ort.Tensor('uint8', Buffer.concat(Array.from({ length: size }, () => crop)), [
        size,
        sidePx,
        sidePx,
        3,
      ])
      const before = process.cpuUsage()
      for (let done = 0; done < CROPS_A_ROUND; done += size) await session.run({ [inputName]: batch })
      const { user, system } = process.cpuUsage(before)
      // The first round makes room and is not counted.
      if (round > 0)
        msPerCrop.set(size, [...(msPerCrop.get(size) ?? []), (user + system) / 1000 / CROPS_A_ROUND])
    }
  for (const [size, times] of msPerCrop) {
    const median = times.toSorted((a, b) => a - b)[Math.floor(times.length / 2)] ?? Number.NaN
    const used = size === MAX_CROPS_A_RUN ? ' (the eye’s)' : ''
    console.log(`batches: ${String(size).padStart(2)} crops a run: ${median.toFixed(2)} ms a crop${used}`)
  }
  await session.release()
}
