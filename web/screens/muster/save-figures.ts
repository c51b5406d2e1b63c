/** Sends changed figures: all of them, made on those that stand. */
import type { MusterAnswerShape, MusterFiguresShape } from '../../../services/http/muster-shapes.ts'
import { tell } from '../../api/ask.ts'

export type PointFiguresShape = MusterFiguresShape['points'][number]
/** As typed: the service says at which field something is no number. */
export type TypedFigures = { readonly [Name in keyof MusterFiguresShape]: unknown }

export async function saveFigures(
  { standing }: MusterAnswerShape,
  figures: TypedFigures,
  note: string | null = null,
): Promise<void> {
  await tell('PUT', '/api/muster', { madeOn: standing, figures, ...(note === null ? {} : { note }) })
}

export const pointFigures = ({ figures }: MusterAnswerShape, pointId: number): PointFiguresShape | null =>
  figures.points.find((one) => one.pointId === pointId) ?? null

export const nameOf = ({ points }: MusterAnswerShape, pointId: number): string =>
  points.find((point) => point.pointId === pointId)?.name ?? String(pointId)
