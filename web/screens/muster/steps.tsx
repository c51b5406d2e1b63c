/** The points in the order of the muster, each with its days, loads and hours; order and figures are changed by hand here. */
import { useState } from 'preact/hooks'
import type { MusterAnswerShape, MusterStepShape } from '../../../services/http/muster-shapes.ts'
import { EmptyNotice, FailedNotice } from '../../parts/notice.tsx'
import { Opener } from '../../parts/opener.tsx'
import { type FormState, useForm } from '../../parts/use-form.ts'
import { notMusteredWords, musterWords as words } from '../../text/muster.ts'
import { PointFiguresForm } from './point-form.tsx'
import { nameOf, saveFigures } from './save-figures.ts'
import { StepFacts } from './step-facts.tsx'
import { StepOrder } from './step-order.tsx'

interface StepsProps {
  readonly answer: MusterAnswerShape
  readonly reload: () => void
}

export function MusterSteps({ answer, reload }: StepsProps) {
  const form = useForm()
  const { steps } = answer.plan
  const order = (ids: readonly number[]) =>
    form.submit(async () => {
      await saveFigures(answer, { ...answer.figures, order: ids })
      reload()
    })
  return (
    <section aria-labelledby="steps-head">
      <h2 id="steps-head">{words.steps}</h2>
      <p class="small">{words.stepsHint}</p>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
      {steps.length === 0 && <EmptyNotice words={words.nobody} />}
      <ol class="muster-steps">
        {steps.map((step, i) => (
          <Step
            answer={answer}
            step={step}
            place={i}
            form={form}
            order={order}
            reload={reload}
            key={step.pointId}
          />
        ))}
      </ol>
      {answer.figures.order.length > 0 && (
        <button type="button" class="button" onClick={() => order([])} disabled={form.sending}>
          {words.byWater}
        </button>
      )}
      <NotMustered answer={answer} reload={reload} />
    </section>
  )
}

interface StepProps extends StepsProps {
  readonly step: MusterStepShape
  readonly place: number
  readonly form: FormState
  readonly order: (ids: readonly number[]) => void
}

function Step({ answer, step, place, form, order, reload }: StepProps) {
  const name = nameOf(answer, step.pointId)
  return (
    <li class="muster-step">
      <div class="muster-step-head">
        <h3>
          {place + 1}. <a href={`/points/${step.pointId}`}>{name}</a>
        </h3>
        <StepOrder answer={answer} place={place} sending={form.sending} order={order} />
      </div>
      <StepFacts answer={answer} step={step} />
      <Changing answer={answer} pointId={step.pointId} reload={reload} />
    </li>
  )
}

interface ChangingProps extends StepsProps {
  readonly pointId: number
}

function Changing({ answer, pointId, reload }: ChangingProps) {
  const [open, setOpen] = useState<boolean | null>(null)
  if (open !== true)
    return (
      <div class="button-row">
        <Opener
          label={words.changeOne(nameOf(answer, pointId))}
          back={open === false}
          press={() => setOpen(true)}
        >
          {words.change}
        </Opener>
      </div>
    )
  const done = () => {
    setOpen(false)
    reload()
  }
  return <PointFiguresForm answer={answer} pointId={pointId} done={done} cancel={() => setOpen(false)} />
}

function NotMustered({ answer, reload }: StepsProps) {
  if (answer.notMustered.length === 0) return null
  return (
    <>
      <h3>{words.notMustered}</h3>
      <ul class="muster-steps">
        {answer.notMustered.map(({ pointId, why }) => (
          <li class="muster-step" key={pointId}>
            <p>
              <strong>{nameOf(answer, pointId)}</strong>: {notMusteredWords(why)}
            </p>
            <Changing answer={answer} pointId={pointId} reload={reload} />
          </li>
        ))}
      </ul>
    </>
  )
}
