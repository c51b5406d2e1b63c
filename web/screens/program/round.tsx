/** The round over the list: how far and how long, and a shorter order where there is one. */
import type { TargetListAnswer } from '../../../services/http/program-shapes.ts'
import { programWords as words } from '../../text/programs.ts'
import { roundWords, straightWords } from '../../text/target-list.ts'
import type { SayEdit } from './target-list.tsx'

interface RoundProps {
  readonly list: TargetListAnswer
  readonly say: SayEdit | null
}

export function Round({ list, say }: RoundProps) {
  const { round, shorter, driving } = list
  const straight = straightWords(round)
  const names = new Map(list.lines.map(({ pointId, name }) => [pointId, name]))
  return (
    <section class="round" aria-labelledby="round-head">
      <h3 id="round-head">{words.round}</h3>
      <p>
        {words.inThisOrder} <strong>{roundWords(round)}</strong>
      </p>
      {shorter === null ? (
        <p>{words.isShortest}</p>
      ) : (
        <>
          <p>
            {words.shorter(shorter.shortest)} <strong>{roundWords(shorter)}</strong> (
            {shorter.order.map((pointId) => names.get(pointId)).join(', ')})
          </p>
          {say !== null && (
            <button
              type="button"
              class="button"
              onClick={() => say({ kind: 'order', pointIds: shorter.order })}
            >
              {words.useShorter}
            </button>
          )}
        </>
      )}
      <p class="small">
        {words.driving(driving.kmAnHour, driving.minutesAtPoint, driving.own)} {straight}{' '}
        <a href="/setup#tracks">{words.drivingLink}</a>
      </p>
    </section>
  )
}
