/** Did it work: what came before and after, what was expected and taken, and how many there were. One page, on paper too. */
import { useRoute } from 'preact-iso'
import type { DidItWorkAnswer } from '../../../services/http/did-it-work-shapes.ts'
import { useReloadOnChange } from '../../api/changes.ts'
import { didItWorkQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { didItWorkWords as words } from '../../text/did-it-work.ts'
import { failureWords } from '../../text/failures.ts'
import { BeforeAfter } from './did-it-work/before-after.tsx'
import { Compared } from './did-it-work/compared.tsx'
import { ExpectedMet } from './did-it-work/expected-met.tsx'
import { Removal } from './did-it-work/removal.tsx'
import { Says } from './did-it-work/says.tsx'
import { ProgramSafety } from './program-safety.tsx'
import type { SectionProps } from './section.ts'

export function DidItWorkSection({ program }: SectionProps) {
  const { query } = useRoute()
  const { before, after, points, round, effort, share } = query
  const asked = { before, after, points, round, effort, share }
  const { answer, failure, reload } = useAnswer(didItWorkQuestion(program.id, asked))
  useReloadOnChange(reload)
  return (
    <section class="did-it-work" aria-labelledby="worked-head">
      <div class="section-head">
        <h2 id="worked-head">{words.head}</h2>
        {answer !== null && (
          <button type="button" class="button outputs" onClick={() => print()}>
            {words.print}
          </button>
        )}
      </div>
      {answer === null && failure === null && <Skeleton shape="row" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && failure !== null && <p class="stale">{failureWords.stale}</p>}
      {answer !== null && (
        // Other nights make another form.
        <Worked answer={answer} key={`${before} ${after} ${points}`} />
      )}
      <ProgramSafety />
    </section>
  )
}

function Worked({ answer }: { readonly answer: DidItWorkAnswer }) {
  return (
    <>
      <p class="paper-only">{answer.station}</p>
      <Says answer={answer} />
      <Compared answer={answer} />
      <BeforeAfter answer={answer} />
      <div class="worked-pair">
        <div>
          <ExpectedMet answer={answer} />
        </div>
        <div>
          <Removal answer={answer} />
        </div>
      </div>
      <h3>{words.cannotKnow}</h3>
      <ul class="plain-list worked-unknown">
        {words.unknowns.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </>
  )
}
