/** The models loaded into ONNX Runtime. */
import type ort from 'onnxruntime-node'
import { type Detector, openDetector } from './detector.ts'
import { type Enlarger, openEnlarger } from './enlarge.ts'
import type { Models } from './manifest.ts'
import { type Namer, openNamer } from './namer.ts'

/** What the runs of the models may use of the machine. */
export interface RunOptions {
  /** Threads within one run. */
  readonly onnxThreads: number
  /** Execution providers of ONNX Runtime, in order. */
  readonly providers: readonly string[]
}

/** One core for each run: more cores are used by more eyes (`openEyes`). */
const ONE_CORE: RunOptions = { onnxThreads: 1, providers: ['cpu'] }

/** `session.run` holds its JavaScript thread; its memory stays bounded as no run is larger than `MAX_CROPS_A_RUN`. */
export function sessionOptions({ onnxThreads, providers }: RunOptions): ort.InferenceSession.SessionOptions {
  return {
    intraOpNumThreads: onnxThreads,
    interOpNumThreads: 1,
    executionProviders: [...providers],
    // Threads that spin between two runs would take the cores that decode.
    ...(onnxThreads > 1 ? { extra: { session: { intra_op: { allow_spinning: '0' } } } } : {}),
  }
}

export interface Sessions {
  readonly detector: Detector
  /** Null where a station brings a detector alone. */
  readonly namer: Namer | null
  readonly enlarger: Enlarger
}

/** Loads the models into ONNX Runtime. */
export async function openSessions(models: Models, run: RunOptions = ONE_CORE): Promise<Sessions> {
  const options = sessionOptions(run)
  return {
    detector: await openDetector(models, options),
    namer: models.namer && (await openNamer(models.namer, options)),
    enlarger: await openEnlarger(),
  }
}
