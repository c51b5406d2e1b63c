/** Lets the station's own namer have its say of a result before it is written down. */
import { nameBoxes } from '../learning/name-boxes.ts'
import { type NamerInUse, namesFor } from '../store/namer-in-use.ts'
import type { Result } from '../store/results.ts'

/** The result as it came where there is no namer, or it learned on top of other models. */
export function nameResult(result: Result, inUse: NamerInUse | null): Result {
  if (result.kind !== 'seen' || inUse === null || !namesFor(inUse, result.models)) return result
  const found = result.found.map((one) => {
    const { embedding, namer: scores, detector } = one
    if (embedding === null || scores === null) return one
    const [named] = nameBoxes(inUse.namer, [{ embedding, scores, detector }])
    return { ...one, ...named!, baseNamer: scores }
  })
  // The best first, as the eye gives them.
  found.sort((a, b) => b.score - a.score)
  return { ...result, found, models: { ...result.models, stationNamer: inUse.version } }
}
