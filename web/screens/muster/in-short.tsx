/** The muster in a few lines: how many, how long, and when to start at the latest on these figures. */
import type { MusterAnswerShape } from '../../../services/http/muster-shapes.ts'
import {
  expectedWords,
  figuresWords,
  latestStartWords,
  threeWords,
  versionLine,
  musterWords as words,
} from '../../text/muster.ts'

interface InShortProps {
  readonly answer: MusterAnswerShape
  /** Opens the figures, where the day to end by is given. */
  readonly giveEnd: () => void
}

export function InShort({ answer, giveEnd }: InShortProps) {
  const { plan, from, to } = answer
  const start = latestStartWords(answer)
  return (
    <section aria-labelledby="short-head">
      <h2 id="short-head">{words.inShort}</h2>
      <dl class="about muster-short">
        <dt>{words.facts.head}</dt>
        <dd>
          {expectedWords(answer)} <small>{words.byCameras(from, to)}</small>
        </dd>
        <dt>{words.loads}</dt>
        <dd>{threeWords(plan.loads)}</dd>
        <dt>{words.daysOfWork}</dt>
        <dd>{threeWords(plan.days)}</dd>
        <dt>{words.latestStart}</dt>
        <dd>
          {start === null ? (
            <button type="button" class="button" onClick={giveEnd}>
              {words.giveEnd}
            </button>
          ) : (
            start.map((line) => <strong key={line}>{line}</strong>)
          )}
        </dd>
        <dt>{words.workedOutWith}</dt>
        <dd>
          {figuresWords(answer)} <small>{versionLine(answer)}</small>
        </dd>
      </dl>
      <p class="small">{words.arithmetic}</p>
    </section>
  )
}
