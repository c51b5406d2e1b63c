/** What became of a still, as it goes over the wire (POST /api/worker/results). */
import type { z } from 'zod'
import { toHalf } from '../../services/half.ts'
import type { resultDoor } from '../../services/http/doors.ts'
import type { DoneLook } from '../../services/queue/station-of-worker.ts'
import type { ModelIdentity } from '../../services/words.ts'

export type SentResult = z.input<typeof resultDoor>

export function sentResult({ still, outcome, lookSeconds }: DoneLook, models: ModelIdentity): SentResult {
  const head = { stillId: still.stillId, urgency: still.urgency, models, lookSeconds }
  if (outcome.kind !== 'seen') return { ...head, ...outcome }
  return {
    ...head,
    kind: 'seen',
    width: outcome.width,
    height: outcome.height,
    colourfulness: outcome.colourfulness,
    sharpness: outcome.sharpness,
    whole: outcome.whole && { ...outcome.whole, view: Buffer.from(outcome.whole.view).toString('hex') },
    // Of the models that spoke, which may be others than those that were read when the worker joined.
    models: outcome.models,
    found: outcome.found.map((one) => ({
      species: one.species,
      score: one.score,
      box: [...one.box],
      detector: [...one.detector],
      namer: one.namer && [...one.namer],
      // The ledger keeps 16-bit numbers; sending them so loses nothing more.
      embedding: one.embedding && toHalf(one.embedding).toString('base64'),
    })),
  }
}
