/** Where the yards there are meet the most head, if no cluster can be closed whole: a second question, kept apart. */
import type { TrapYardsAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { howWords, meetWords, metLines, oneMoreLine, shiftLines } from '../../text/gates-met.ts'
import { yardWords as words } from '../../text/trap-yards.ts'

interface MeetProps {
  readonly answer: TrapYardsAnswer
  readonly use: (points: readonly number[]) => void
}

export function Meet({ answer, use }: MeetProps) {
  const { meet, close } = answer
  if (meet === null) return null
  const set = [...meet.standingAt, ...meet.portableAt]
  const closed = new Set([...close.standingAt, ...close.portableAt])
  // Where whole clusters come to the same gates there is no second answer.
  if (set.length === closed.size && set.every((id) => closed.has(id)) && set.length > 0) return null
  const oneMore = oneMoreLine(answer, meet.oneMore)
  return (
    <section aria-labelledby="meet-head">
      <h2 id="meet-head">{words.meetHead}</h2>
      <p>{meetWords(answer)}</p>
      {set.length > 0 && (
        <>
          {[...metLines(meet), ...shiftLines(answer, meet)].map((line) => (
            <p key={line}>{line}</p>
          ))}
          {oneMore !== null && <p>{oneMore}</p>}
          <p class="small">{howWords(meet)}</p>
          <div class="button-row">
            <button type="button" class="button" onClick={() => use(set)}>
              {words.useThese}
            </button>
          </div>
        </>
      )}
    </section>
  )
}
