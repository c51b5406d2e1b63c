/**
 * The bare sessions in a thread: the tensors the pipeline makes of the stills are made once and kept, then only
 * `session.run` is left. The same session options and run sizes as the eye's.
 */
import { parentPort, workerData } from 'node:worker_threads'
import ort from 'onnxruntime-node'
import { eyeOf } from '../../worker/eye/look.ts'
import type { Models } from '../../worker/eye/manifest.ts'
import { MAX_CROPS_A_RUN } from '../../worker/eye/namer.ts'
import { openSessions, type RunOptions, sessionOptions } from '../../worker/eye/sessions.ts'

export interface BareThreadData {
  readonly models: Models
  readonly run: RunOptions
  readonly stills: readonly Uint8Array[]
}
interface Tensors {
  readonly input: ort.Tensor
  readonly crops: readonly ort.Tensor[]
}

const port = parentPort
if (!port) throw new Error('this file runs as a thread of the bench')
const { models, run: runOptions, stills }: BareThreadData = workerData
const { detector, namer } = models
if (!namer) throw new Error('the bench needs a namer')

async function recordTensors(part: NonNullable<Models['namer']>): Promise<Tensors[]> {
  const recorded: Tensors[] = []
  const { detector: detect, namer: name, enlarger } = await openSessions(models, runOptions)
  if (!name) throw new Error('the bench needs a namer')
  let input: Uint8Array = new Uint8Array()
  let crops: readonly Uint8Array[] = []
  const eye = eyeOf(models, {
    detector: {
      ...detect,
      detect: (bytes) => {
        input = bytes
        return detect.detect(bytes)
      },
    },
    namer: {
      ...name,
      name: (cut) => {
        crops = cut
        return name.name(cut)
      },
    },
    enlarger,
  })
  for (const still of stills) {
    crops = []
    await eye.look(still)
    recorded.push({
      input: new ort.Tensor('uint8', input, [1, detector.heightPx, detector.widthPx, 3]),
      crops: inRuns(crops, part.sidePx),
    })
  }
  await eye.close()
  return recorded
}

function inRuns(crops: readonly Uint8Array[], sidePx: number): ort.Tensor[] {
  const runs: ort.Tensor[] = []
  for (let from = 0; from < crops.length; from += MAX_CROPS_A_RUN) {
    const part = crops.slice(from, from + MAX_CROPS_A_RUN)
    runs.push(new ort.Tensor('uint8', Buffer.concat(part), [part.length, sidePx, sidePx, 3]))
  }
  return runs
}

const tensors = await recordTensors(namer)
const detectorSession = await ort.InferenceSession.create(detector.bytes, sessionOptions(runOptions))
const namerSession = await ort.InferenceSession.create(namer.bytes, sessionOptions(runOptions))

async function run(still: number): Promise<void> {
  const kept = tensors[still]
  if (!kept || !namer) throw new Error(`no still ${still}`)
  await detectorSession.run({ [detector.inputName]: kept.input })
  for (const crops of kept.crops) await namerSession.run({ [namer.inputName]: crops })
}

// The number of a still comes in, and goes out when the sessions have run on it.
port.on('message', (still: number) => {
  void run(still).then(() => port.postMessage(still))
})
port.postMessage('ready')
