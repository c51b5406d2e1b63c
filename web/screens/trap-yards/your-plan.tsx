/** Gates by hand: what is met, what shifts, what stays open, by the same functions as the proposal. */
import type { TrapYardsAnswer, YardTryAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { yardTryQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { metLines, oneMoreLine, shiftLines, wholeLine } from '../../text/gates-met.ts'
import { lackLines } from '../../text/other-water.ts'
import { leftOpenLines, planWords as words } from '../../text/yard-plan.ts'
import type { Draft } from './draft.ts'
import { Ticks } from './other-water.tsx'

export interface DraftProps {
  readonly answer: TrapYardsAnswer
  readonly draft: Draft
  readonly change: (to: Partial<Draft>) => void
}

export function YourPlan({ answer, draft, change }: DraftProps) {
  const { points } = draft
  const asked = useAnswer(points.length === 0 ? null : yardTryQuestion(answer.species, points))
  return (
    <section aria-labelledby="yours-head">
      <h2 id="yours-head">{words.yours}</h2>
      <p class="small">{words.yoursHint}</p>
      <Ticks
        legend={words.gatesAt}
        name="gates"
        points={answer.points}
        ticked={new Set(points)}
        change={(ticked) =>
          change({ points: answer.points.map(({ pointId }) => pointId).filter((id) => ticked.has(id)) })
        }
      />
      {points.length === 0 && <p>{words.none}</p>}
      {asked.failure !== null && <FailedNotice failure={asked.failure} again={asked.reload} />}
      {points.length > 0 && asked.answer === null && asked.failure === null && (
        <Skeleton shape="line" count={3} />
      )}
      {points.length > 0 && asked.answer !== null && <Tried answer={answer} tried={asked.answer} />}
    </section>
  )
}

function Tried({ answer, tried }: { readonly answer: TrapYardsAnswer; readonly tried: YardTryAnswer }) {
  const isWhole = tried.leftOpen.length === 0 && tried.closedWhole.length > 0
  const oneMore = oneMoreLine(answer, tried.oneMore)
  const lines = isWhole
    ? [wholeLine(tried)]
    : [...metLines(tried), ...leftOpenLines(answer, tried.leftOpen), ...shiftLines(answer, tried)]
  return (
    <div class="yard-tried" aria-live="polite">
      {[...lines, ...(oneMore === null ? [] : [oneMore])].map((line) => (
        <p key={line}>{line}</p>
      ))}
      {tried.lacks.length > 0 && (
        <div class="yard-cant">
          <p>{words.cantKeep}</p>
          <ul>
            {lackLines(answer, tried.lacks).map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </div>
      )}
    </div>
  )
}
