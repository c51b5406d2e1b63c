/** Where a number of the week opens: the photos behind it. */
import type { PressureAnswer } from '../../../services/http/pressure-shapes.ts'
import type { Species } from '../../../services/words.ts'
import { withQuery } from '../../api/questions.ts'

interface Behind {
  readonly pointId: number
  readonly species?: Species
  /** One night; else the whole week. */
  readonly night?: string | undefined
}

export function photosOf({ from, to }: PressureAnswer, { pointId, species, night }: Behind): string {
  const nights = night === undefined ? { from, to } : { night }
  return withQuery('/photos', { point: pointId, species, ...nights })
}
