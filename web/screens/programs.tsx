/** Programs: those that are planned or going on, a form for a new one, and those that are over. */
import { useState } from 'preact/hooks'
import { useLocation } from 'preact-iso'
import type { Program, ProgramsAnswer } from '../../services/http/program-shapes.ts'
import { tell } from '../api/ask.ts'
import { programsQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Opener } from '../parts/opener.tsx'
import { Screen } from '../parts/screen.tsx'
import { TrapAlarms } from '../parts/trap-alarms.tsx'
import { failureWords } from '../text/failures.ts'
import { musterWords } from '../text/muster.ts'
import { programLine, stateWords, summaryOf, programWords as words } from '../text/programs.ts'
import { notOwnerless } from '../text/safety.ts'
import { ProgramForm } from './program/program-form.tsx'

type Listed = ProgramsAnswer['programs'][number]

export function ProgramsScreen() {
  const { answer, failure, reload } = useAnswer(programsQuestion)
  const [making, setMaking] = useState<boolean | null>(null)
  const { route } = useLocation()
  const make = async (body: object) => {
    const { program } = await tell<{ program: Program }>('POST', '/api/programs', body)
    route(`/programs/${program.id}`)
  }
  const isOver = ({ overSince }: Listed) => overSince !== null
  return (
    <Screen title={words.title} kind="programs">
      {answer === null && failure === null && <Skeleton shape="row" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && failure !== null && <p class="stale">{failureWords.stale}</p>}
      {answer !== null && (
        <>
          <TrapAlarms />
          <p>{words.lead}</p>
          {answer.programs.length === 0 && <EmptyNotice words={words.none} />}
          <ProgramList programs={answer.programs.filter((one) => !isOver(one))} />
          {making === true ? (
            <ProgramForm program={null} today={answer.now} save={make} cancel={() => setMaking(false)} />
          ) : (
            <p>
              <Opener strong back={making === false} press={() => setMaking(true)}>
                {words.make}
              </Opener>
            </p>
          )}
          {answer.programs.some(isOver) && (
            <section aria-labelledby="over-head">
              <h2 id="over-head">{words.over}</h2>
              <ProgramList programs={answer.programs.filter(isOver)} />
            </section>
          )}
          <p>
            <a class="button" href="/muster">
              {musterWords.title}
            </a>
          </p>
          <p class="honesty">{notOwnerless}</p>
        </>
      )}
    </Screen>
  )
}

function ProgramList({ programs }: { readonly programs: readonly Listed[] }) {
  if (programs.length === 0) return null
  return (
    <ul class="plain-list">
      {programs.map((program) => (
        <li key={program.id}>
          <a
            class={`program-row program-${program.state.replaceAll(' ', '-')}`}
            href={`/programs/${program.id}`}
          >
            <span class="program-name">{program.name}</span>
            <span class="program-state">{stateWords(program)}</span>
            <span>{programLine(program)}</span>
            <small>{summaryOf(program.points)}</small>
          </a>
        </li>
      ))}
    </ul>
  )
}
