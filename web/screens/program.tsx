/** One program: its head, and its sections, each in a file of its own and at an address of its own. */
import type { ComponentType } from 'preact'
import { useRoute } from 'preact-iso'
import { programQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { programLine, stateWords, programWords as words } from '../text/programs.ts'
import { yardWords } from '../text/yard.ts'
import { DidItWorkSection } from './program/did-it-work.tsx'
import { OutcomesSection } from './program/outcomes.tsx'
import { Plan } from './program/plan.tsx'
import type { SectionProps } from './program/section.ts'
import { TargetListSection } from './program/target-list.tsx'

/** `part`: the end of the section's address; the first has none. */
const SECTIONS: readonly {
  readonly part: string
  readonly words: string
  readonly section: ComponentType<SectionProps>
}[] = [
  { part: '', words: words.parts.list, section: TargetListSection },
  { part: 'outcomes', words: yardWords.outcomesHead, section: OutcomesSection },
  { part: 'did-it-work', words: words.parts.worked, section: DidItWorkSection },
]

export function ProgramScreen() {
  const { params } = useRoute()
  const id = params.id ?? ''
  const { answer, failure, reload } = useAnswer(programQuestion(id))
  const shown = SECTIONS.find(({ part }) => part === (params.part ?? '')) ?? SECTIONS[0]!
  const Section = shown.section
  return (
    <Screen
      title={answer?.program.name ?? words.program}
      kind="program"
      back={{ href: '/programs', words: words.back }}
      key={id}
    >
      {answer === null && failure === null && <Skeleton shape="row" count={4} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && (
        <>
          <p class="program-line">
            {programLine(answer.program)}
            <span class="program-state">{stateWords(answer.program)}</span>
          </p>
          {answer.program.note !== null && <p>{answer.program.note}</p>}
          <Plan history={answer} changed={reload} />
          {SECTIONS.length > 1 && (
            <nav class="parts-bar" aria-label={words.sections}>
              {SECTIONS.map(({ part, words: name }) => (
                <a
                  class="button"
                  href={part === '' ? `/programs/${id}` : `/programs/${id}/${part}`}
                  aria-current={part === shown.part ? 'page' : undefined}
                  key={part}
                >
                  {name}
                </a>
              ))}
            </nav>
          )}
          {/* A word on the program changes what its sections show. */}
          <Section program={answer.program} changed={reload} key={answer.words.length} />
        </>
      )}
    </Screen>
  )
}
