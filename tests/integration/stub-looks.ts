/** An eye that sees what a test says, for stills of small-station.ts whose bytes are their names. */
import { createHash } from 'node:crypto'
import type { EyeProcess } from '../../services/queue/eye-process.ts'
import { type InProcessOptions, startInProcessQueue } from '../../services/queue/in-process.ts'
import { stillWork } from '../../services/queue/process-still.ts'
import type { Queue } from '../../services/queue/queue.ts'
import type { Ledger } from '../../services/store/open.ts'
import type { StillFiles } from '../../services/store/still-files.ts'
import type { Found, Looked, ModelIdentity, Species, Tally } from '../../services/words.ts'

export const newerModels: ModelIdentity = {
  name: 'made-up',
  version: '2',
  detectorSha256: 'e'.repeat(64),
  namerSha256: 'f'.repeat(64),
}

/** So many of each species, well apart and surely named. */
export function foundOf(tally: Tally, score = 0.9): Found[] {
  return (Object.entries(tally) as Array<[Species, number]>).flatMap(([species, head], row) =>
    Array.from({ length: head }, (_, column) => ({
      species,
      score,
      box: [column * 60, row * 60, column * 60 + 40, row * 60 + 40] as const,
      detector: [0.9, 0.01, 0.01, 0.01, 0.01, 0.01],
      namer: [0.9, 0.01, 0.01, 0.01, 0.01, 0.01],
      embedding: new Float32Array(1280).fill(0.25),
    })),
  )
}

export const seenAs = (tally: Tally, models = newerModels, score = 0.9): Looked => ({
  kind: 'seen',
  width: 640,
  height: 360,
  found: foundOf(tally, score),
  models,
})

/** What the eye answers for the still of this name; throws where the look fails. */
export type Look = (name: string) => Looked | Promise<Looked>

/** A queue in memory over a ledger, with such an eye; `names` are the stills' own. */
export function startStubQueue(
  ledger: Ledger,
  look: Look,
  { names, ...options }: { readonly names: readonly string[] } & Partial<InProcessOptions>,
): Queue {
  const nameOf = new Map(names.map((name) => [createHash('sha256').update(name).digest('hex'), name]))
  const files = { sourceOf: async (hash: Buffer) => ({ bytes: hash }) } as unknown as StillFiles
  const eye = {
    look: async (source: { readonly bytes: Buffer }) => look(nameOf.get(source.bytes.toString('hex'))!),
  } as unknown as EyeProcess
  return startInProcessQueue(stillWork({ ledger, files, eye, log: () => undefined }), {
    inHandAtOnce: 2,
    firstRetryMs: 1,
    ...options,
  })
}
