/** The plans that are kept: opened, changed, withdrawn. */
import type { KeptPlan, TrapYardsAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { tell } from '../../api/ask.ts'
import { withQuery, yardPlansQuestion } from '../../api/questions.ts'
import { type Asked, useAnswer } from '../../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { Sure } from '../../parts/sure.tsx'
import { useForm } from '../../parts/use-form.ts'
import { planLine, planWords as words } from '../../text/yard-plan.ts'

export const usePlans = () => useAnswer(yardPlansQuestion)

interface PlansProps {
  readonly answer: TrapYardsAnswer
  readonly asked: Asked<{ plans: KeptPlan[] }>
}

export function Plans({ answer, asked }: PlansProps) {
  return (
    <section aria-labelledby="kept-head">
      <h2 id="kept-head">{words.kept}</h2>
      {asked.failure !== null && <FailedNotice failure={asked.failure} again={asked.reload} />}
      {asked.answer === null && asked.failure === null && <Skeleton shape="line" count={2} />}
      {asked.answer?.plans.length === 0 && <p>{words.noneKept}</p>}
      <ul class="plain-list yard-plans">
        {asked.answer?.plans.map((kept) => (
          <li key={kept.planId}>
            <Plan answer={answer} kept={kept} withdrawn={asked.reload} />
          </li>
        ))}
      </ul>
    </section>
  )
}

interface PlanProps {
  readonly answer: TrapYardsAnswer
  readonly kept: KeptPlan
  readonly withdrawn: () => void
}

function Plan({ answer, kept, withdrawn }: PlanProps) {
  const form = useForm()
  const { planId, version, plan } = kept
  return (
    <article class="yard-plan">
      <h3>
        <a href={`/trap-yards/plans/${planId}`}>{plan.name}</a>
      </h3>
      <p class="small">{planLine(answer, kept)}</p>
      {plan.note !== null && <p>{plan.note}</p>}
      <div class="button-row">
        <a class="button" href={`/trap-yards/plans/${planId}`} aria-label={`${words.open} ${plan.name}`}>
          {words.open}
        </a>
        <a
          class="button"
          href={withQuery('/trap-yards', { species: plan.species, plan: planId })}
          aria-label={`${words.change} ${plan.name}`}
        >
          {words.change}
        </a>
        <Sure
          form={form}
          label={words.withdrawLabel(plan.name)}
          warns={words.withdrawWarns}
          yes={words.withdrawYes}
          act={async () => {
            await tell('DELETE', `/api/trap-yards/plans/${planId}`, { version })
            withdrawn()
          }}
        >
          {words.withdraw}
        </Sure>
      </div>
    </article>
  )
}
