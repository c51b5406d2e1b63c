/** Trap yards: where to set gates and when, for one species; what a person chooses stands over what is proposed. */

import { useEffect, useRef, useState } from 'preact/hooks'
import { useLocation, useRoute } from 'preact-iso'
import type { KeptPlan, TrapYardsAnswer } from '../../services/http/trap-yard-shapes.ts'
import { SPECIES } from '../../services/words.ts'
import { trapYardsQuestion, withQuery } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { EmptyNotice, FailedNotice, Skeleton, Spoken } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { speciesName } from '../text/counts.ts'
import { failureWords } from '../text/failures.ts'
import { notOwnerless, trapSafety, waterSafety } from '../text/safety.ts'
import { setupWords } from '../text/setup.ts'
import { basisWords, proposalWords, unlikeLines, yardWords as words } from '../text/trap-yards.ts'
import { Clusters } from './trap-yards/clusters.tsx'
import { type Draft, draftOf, draftOfPlan } from './trap-yards/draft.ts'
import { Hours } from './trap-yards/hours.tsx'
import { Keep } from './trap-yards/keep.tsx'
import { YardMap } from './trap-yards/map.tsx'
import { Means } from './trap-yards/means.tsx'
import { Meet } from './trap-yards/meet.tsx'
import { Plans, usePlans } from './trap-yards/plans.tsx'
import { Training } from './trap-yards/training.tsx'
import { YourPlan } from './trap-yards/your-plan.tsx'

export function TrapYardsScreen() {
  const { query } = useRoute()
  const [said, setSaid] = useState('')
  const { answer, failure, reload } = useAnswer(trapYardsQuestion(query.species ?? null))
  return (
    <Screen title={words.title} kind="yards">
      {answer === null && failure === null && <Skeleton shape="row" count={4} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && failure !== null && <p class="stale">{failureWords.stale}</p>}
      {answer !== null &&
        (answer.points.length === 0 ? (
          <EmptyNotice words={words.noPoints} href="/setup#points" />
        ) : (
          <>
            <ChosenSpecies answer={answer} />
            <Spoken words={said} />
            <Yards
              answer={answer}
              changed={reload}
              planId={query.plan ?? null}
              say={setSaid}
              key={`${answer.species} ${query.plan}`}
            />
          </>
        ))}
    </Screen>
  )
}

function ChosenSpecies({ answer }: { readonly answer: TrapYardsAnswer }) {
  const shown = SPECIES.filter((species) =>
    answer.choices.some(
      (one) => one.species === species && (one.role === 'feral' || species === answer.species),
    ),
  )
  return (
    <nav class="button-row chosen-species" aria-label={words.species}>
      {shown.map((species) => (
        <a
          class="button"
          href={withQuery('/trap-yards', { species })}
          aria-current={species === answer.species ? 'true' : undefined}
          key={species}
        >
          <span class={`swatch swatch-${species}`} aria-hidden="true" />
          {speciesName(species)}
        </a>
      ))}
    </nav>
  )
}

interface YardsProps {
  readonly answer: TrapYardsAnswer
  readonly changed: () => void
  /** The plan that is changed; null: a new one. */
  readonly planId: string | null
  readonly say: (words: string) => void
}

function Yards({ answer, changed, planId, say }: YardsProps) {
  const { route } = useLocation()
  const [draft, setDraft] = useState<Draft | null>(null)
  const plans = usePlans()
  const yours = useRef<HTMLDivElement>(null)
  // Until somebody changes it, the plan is what is proposed now.
  const shown = draft ?? draftOf(answer)
  const change = (to: Partial<Draft>) => setDraft({ ...shown, ...to })
  const goToPlan = () => yours.current?.scrollIntoView()
  const changing = plans.answer?.plans.find((one) => String(one.planId) === planId)
  useEffect(() => {
    if (changing === undefined) return
    setDraft(draftOfPlan(changing))
    goToPlan()
  }, [changing?.planId, changing?.version])
  const kept = ({ plan }: KeptPlan) => {
    setDraft(null)
    say(`${setupWords.saved} ${plan.name}`)
    plans.reload()
    if (planId !== null) route(withQuery('/trap-yards', { species: answer.species }), true)
  }
  return (
    <>
      <section class="yard-proposal" aria-labelledby="where-head">
        <h2 id="where-head">{words.where}</h2>
        <p class="yard-told">{proposalWords(answer)}</p>
        <p class="small">{basisWords(answer)}</p>
        {unlikeLines(answer).map((line) => (
          <p class="small" key={line}>
            {line}
          </p>
        ))}
        <p class="safety-line">{waterSafety}</p>
        <YardMap answer={answer} set={shown.points} />
      </section>
      <Means answer={answer} changed={changed} />
      <Clusters answer={answer} changed={changed} />
      <Meet
        answer={answer}
        use={(points) => {
          change({ points })
          goToPlan()
        }}
      />
      <div ref={yours} class="yard-yours">
        <YourPlan answer={answer} draft={shown} change={change} />
        {shown.points.length > 0 && (
          <>
            <Hours answer={answer} draft={shown} change={change} />
            <Training answer={answer} points={shown.points} first={shown.first} changed={changed} />
            <Keep answer={answer} draft={shown} change={change} kept={kept} />
          </>
        )}
      </div>
      <Plans answer={answer} asked={plans} />
      <CannotKnow />
    </>
  )
}

export function CannotKnow() {
  return (
    <footer class="yard-foot">
      <h2>{words.cannotKnow}</h2>
      <ul class="plain-list">
        {words.unknowns.map((line) => (
          <li class="honesty" key={line}>
            {line}
          </li>
        ))}
        {[trapSafety.visit, trapSafety.open, trapSafety.release, notOwnerless].map((line) => (
          <li class="honesty" key={line}>
            {line}
          </li>
        ))}
      </ul>
    </footer>
  )
}
