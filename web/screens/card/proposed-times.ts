/** What a card's photos say of when its camera stood where: proposed, and taken only by a person's tap. */
import type { CameraTimesAnswer } from '../../../services/http/clock-shapes.ts'
import type { CardProgress } from './send-card.ts'

type Times = CameraTimesAnswer['times']
type Span = NonNullable<CardProgress['span']>

export interface ProposedTimes {
  /** For PUT /api/cameras/:id/times. */
  readonly times: ReadonlyArray<{
    readonly pointId: number
    readonly from: string | null
    readonly to: string | null
  }>
  readonly pointName: string
  readonly from: string
  /** Null: it stands there still. */
  readonly to: string | null
}

const isBefore = (a: string, b: string) => Date.parse(a) < Date.parse(b)

/**
 * The camera's first time at a point begins with the card's first photo, where it is not known when it was put up or where
 * that was said later; null where its times hold the card already.
 */
export function putUpProposed(times: Times, span: Span): ProposedTimes | null {
  const [first, ...later] = times
  if (first === undefined) return null
  if (first.from !== null && !isBefore(span.first, first.from)) return null
  // A time that would end before it began is none.
  if (first.to !== null && !isBefore(span.first, first.to)) return null
  const begun = { ...first, from: span.first }
  return proposed([begun, ...later], begun)
}

/** It was taken down with the card's last photo: for a camera that stands somewhere still, by what is written down. */
export function takenDownProposed(times: Times, span: Span): ProposedTimes | null {
  const last = times.at(-1)
  if (last === undefined || last.to !== null) return null
  const from = last.from === null || isBefore(span.first, last.from) ? span.first : last.from
  if (times.length > 1 && from !== last.from) return null
  if (!isBefore(from, span.last)) return null
  const ended = { ...last, from, to: span.last }
  return proposed([...times.slice(0, -1), ended], ended)
}

function proposed(times: Times, shown: Times[number]): ProposedTimes {
  return {
    times: times.map(({ pointId, from, to }) => ({ pointId, from, to })),
    pointName: shown.pointName,
    from: shown.from ?? '',
    to: shown.to,
  }
}
