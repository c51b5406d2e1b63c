/** What a program took: in all, by day, and every entry with who said it. */
import { useLocation } from 'preact-iso'
import { useReloadOnChange } from '../../api/changes.ts'
import { programOutcomesQuestion, targetListQuestion, withQuery } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { newUuid } from '../../api/uuid.ts'
import { putYardEntry } from '../../api/yard-out.ts'
import { EmptyNotice, FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { TrapAlarms } from '../../parts/trap-alarms.tsx'
import { whoSays } from '../../parts/who.ts'
import { failureWords } from '../../text/failures.ts'
import { licensedPeople, notOwnerless } from '../../text/safety.ts'
import { sumWords, yardWords as words } from '../../text/yard.ts'
import { askToPutRight } from '../yard/asked-right.ts'
import { EntryList, inOrder, type Listed } from '../yard/entry-list.tsx'
import { SheetLinks } from '../yard/sheet-links.tsx'
import { useReloadOnTaken } from '../yard/use-yard-out.ts'
import { YardWaiting } from '../yard/waiting.tsx'
import { OutcomeDays } from './outcome-days.tsx'
import type { SectionProps } from './section.ts'

export function OutcomesSection({ program }: SectionProps) {
  const { answer, failure, reload } = useAnswer(programOutcomesQuestion(program.id))
  const list = useAnswer(targetListQuestion(program.id))
  useReloadOnChange(reload)
  useReloadOnTaken(reload)
  const { route } = useLocation()
  const atYard = withQuery('/yard', { program: program.id })
  const takeBack = (one: Listed) => {
    const word = { kind: 'withdrawn', id: newUuid(), withdraws: one.entry.id } as const
    putYardEntry({ to: one.log, body: { who: whoSays(), words: [word] } })
  }
  return (
    <section class="outcomes" aria-labelledby="outcomes-head">
      <h2 id="outcomes-head">{words.outcomesHead}</h2>
      <YardWaiting />
      {list.answer !== null && <TrapAlarms pointIds={list.answer.lines.map(({ pointId }) => pointId)} />}
      {answer === null && failure === null && <Skeleton shape="row" count={2} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && failure !== null && <p class="stale">{failureWords.stale}</p>}
      {answer?.outcomes.length === 0 && <EmptyNotice words={words.noOutcomes} href={atYard} />}
      {answer !== null && answer.outcomes.length > 0 && (
        <>
          <p class="outcome-sums">
            <strong>{words.sums}:</strong> {sumWords(answer.sums)}
          </p>
          <p class="small">{words.leastHint}</p>
          <div class="button-row outputs">
            <a class="button button-strong" href={atYard}>
              {words.enter}
            </a>
            <a class="button" href={withQuery('/api/outcomes.csv', { program: program.id })} download>
              {words.csv}
            </a>
          </div>
          <OutcomeDays outcomes={answer.outcomes} />
          <h3>{words.history}</h3>
          <EntryList
            entries={inOrder(answer.outcomes, [])}
            takeBack={takeBack}
            putRight={(one) => {
              askToPutRight(one)
              route(withQuery('/yard', { program: program.id }))
            }}
            withPoint
          />
        </>
      )}
      <SheetLinks programId={program.id} />
      <p class="honesty">
        {notOwnerless} {licensedPeople}
      </p>
    </section>
  )
}
