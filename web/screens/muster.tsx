/** Muster and drought: what it takes to empty the points, what is left behind, and the feed if no rain comes. Prints as a sheet. */
import { useState } from 'preact/hooks'
import { useRoute } from 'preact-iso'
import type { MusterAnswerShape } from '../../services/http/muster-shapes.ts'
import { musterQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { failureWords } from '../text/failures.ts'
import { musterWords as words } from '../text/muster.ts'
import { movingSafety, waterSafety } from '../text/safety.ts'
import { Feed } from './muster/feed.tsx'
import { FiguresForm } from './muster/figures-form.tsx'
import { InShort } from './muster/in-short.tsx'
import { MusterSteps } from './muster/steps.tsx'
import { EarlierNotice, Versions } from './muster/versions.tsx'

export function MusterScreen() {
  const { query } = useRoute()
  const { answer, failure, reload } = useAnswer(musterQuestion(query.version ?? null))
  return (
    <Screen
      title={words.title}
      kind="muster"
      back={{ href: '/programs', words: words.back }}
      aside={answer !== null && answer.points.length > 0 && <Outputs />}
    >
      {answer === null && failure === null && <Skeleton shape="row" count={4} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && failure !== null && <p class="stale">{failureWords.stale}</p>}
      {answer?.points.length === 0 && <EmptyNotice words={words.noPoints} href="/setup#points" />}
      {answer !== null && answer.points.length > 0 && (
        // Earlier figures make other forms: what was typed belongs to those that stand.
        <Muster answer={answer} reload={reload} key={query.version ?? 'standing'} />
      )}
    </Screen>
  )
}

function Outputs() {
  return (
    <div class="button-row outputs">
      <button type="button" class="button" onClick={() => print()}>
        {words.print}
      </button>
    </div>
  )
}

interface MusterProps {
  readonly answer: MusterAnswerShape
  readonly reload: () => void
}

function Muster({ answer, reload }: MusterProps) {
  const [figuresOpen, setFiguresOpen] = useState(false)
  const giveEnd = () => {
    setFiguresOpen(true)
    // Once the fold has drawn its fields.
    requestAnimationFrame(() => document.querySelector<HTMLElement>('[name="endBy"]')?.focus())
  }
  return (
    <>
      <p class="paper-only">{answer.station}</p>
      <p class="screen-only">{words.lead}</p>
      <EarlierNotice answer={answer} reload={reload} />
      <InShort answer={answer} giveEnd={giveEnd} />
      <FiguresForm answer={answer} reload={reload} open={figuresOpen} turned={setFiguresOpen} />
      <MusterSteps answer={answer} reload={reload} />
      <Feed answer={answer} />
      <section aria-labelledby="unknown-head">
        <h2 id="unknown-head">{words.cannotKnow}</h2>
        <ul class="plain-list muster-unknown">
          {words.unknowns.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </section>
      <Versions answer={answer} />
      <footer class="pressure-foot">
        <p class="honesty screen-only">{words.arithmetic}</p>
        <p class="honesty">{movingSafety}</p>
        <p class="honesty">{waterSafety}</p>
      </footer>
    </>
  )
}
