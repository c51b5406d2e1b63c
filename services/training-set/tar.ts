/** A training set as one file, made while it is sent. */
import { once } from 'node:events'
import type { Writable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import { pack } from 'tar-stream'
import { ANNOTATIONS, IMAGES, makeTrainingSet, type TrainingSet, type TrainingSetSource } from './make.ts'

/** Ends `to` when all of it is written; a photo is read only once the one before is on its way. */
export async function sendTrainingSet(source: TrainingSetSource, to: Writable): Promise<TrainingSet> {
  const tar = pack()
  const sent = pipeline(tar, to)
  // Heard below; a receiver that goes away must not be a fault that nobody hears.
  sent.catch(() => undefined)
  const mtime = new Date(source.now)
  const entry = (name: string, content: Buffer | string): Promise<void> =>
    new Promise((resolve, reject) => {
      tar.entry({ name, mtime }, content, (fault) => (fault ? reject(fault) : resolve()))
    })
  try {
    const set = await makeTrainingSet(source, {
      async picture(file, bytes) {
        await entry(`${IMAGES}/${file}`, bytes)
        if (to.writableNeedDrain) await Promise.race([once(to, 'drain', { signal: source.signal }), sent])
      },
      annotations: (text) => entry(ANNOTATIONS, text),
    })
    tar.finalize()
    await sent
    return set
  } catch (fault) {
    tar.destroy()
    throw fault
  }
}
