/** One place earlier, one place later: what a person says of the order stands before the order by water. */
import type { MusterAnswerShape } from '../../../services/http/muster-shapes.ts'
import { Icon } from '../../parts/icon.tsx'
import { musterWords as words } from '../../text/muster.ts'
import { nameOf } from './save-figures.ts'

interface StepOrderProps {
  readonly answer: MusterAnswerShape
  readonly place: number
  readonly sending: boolean
  readonly order: (ids: readonly number[]) => void
}

export function StepOrder({ answer, place, sending, order }: StepOrderProps) {
  const ids = answer.plan.steps.map(({ pointId }) => pointId)
  const name = nameOf(answer, ids[place]!)
  const swapped = (other: number) => {
    const next = [...ids]
    next[place] = ids[other]!
    next[other] = ids[place]!
    return next
  }
  return (
    <div class="button-row">
      <button
        type="button"
        class="button button-square"
        aria-label={words.earlier(name)}
        disabled={sending || place === 0}
        onClick={() => order(swapped(place - 1))}
      >
        <Icon name="up" />
      </button>
      <button
        type="button"
        class="button button-square"
        aria-label={words.later(name)}
        disabled={sending || place === ids.length - 1}
        onClick={() => order(swapped(place + 1))}
      >
        <Icon name="down" />
      </button>
    </div>
  )
}
