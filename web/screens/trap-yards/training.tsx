/** Weeks of open gates at each yard of a plan, from its first use on; the owner may give another day. */
import { useState } from 'preact/hooks'
import type { TrapYardsAnswer, YardPoint } from '../../../services/http/trap-yard-shapes.ts'
import { tell } from '../../api/ask.ts'
import { FactChip } from '../../parts/fact.tsx'
import { Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { Opener } from '../../parts/opener.tsx'
import { useForm } from '../../parts/use-form.ts'
import { planWords as words } from '../../text/yard-plan.ts'
import { stageWords, stepsLeft, tooSoon, trainingLine, trapWords } from '../../text/yard-training.ts'

interface TrainingProps {
  readonly answer: TrapYardsAnswer
  readonly points: readonly number[]
  /** The plan's first day. */
  readonly first: string
  readonly changed: () => void
}

export function Training({ answer, points, first, changed }: TrainingProps) {
  const shown = answer.points.filter(({ pointId }) => points.includes(pointId))
  if (shown.length === 0) return null
  return (
    <section aria-labelledby="training-head">
      <h2 id="training-head">{words.training}</h2>
      <p class="small">{words.trainingHint}</p>
      <ul class="plain-list yard-training">
        {shown.map((point) => (
          <li key={point.pointId}>
            <h3>{point.name}</h3>
            <Stage point={point} first={first} />
            <p>
              {trainingLine(point)} {stepsLeft(point, answer.today)}
            </p>
            <OtherDay answer={answer} point={point} changed={changed} />
          </li>
        ))}
      </ul>
    </section>
  )
}

function Stage({ point, first }: { readonly point: YardPoint; readonly first: string }) {
  const soon = tooSoon(point, first)
  const trap = trapWords(point)
  return (
    <p class="facts">
      <FactChip fact={{ tone: 'plain', words: stageWords(point) }} icon="hoof" />
      {trap !== null && <FactChip fact={{ tone: 'plain', words: trap }} icon="trap" />}
      {soon !== null && <FactChip fact={{ tone: 'look', words: soon }} icon="clock" />}
    </p>
  )
}

interface OtherDayProps {
  readonly answer: TrapYardsAnswer
  readonly point: YardPoint
  readonly changed: () => void
}

function OtherDay({ answer, point, changed }: OtherDayProps) {
  const [open, setOpen] = useState<boolean | null>(null)
  const form = useForm()
  const [on, setOn] = useState(point.training.firstUsed?.on ?? '')
  if (open !== true)
    return (
      <Opener label={words.otherDayLabel(point.name)} back={open === false} press={() => setOpen(true)}>
        {words.otherDay}
      </Opener>
    )
  const submit = async () => {
    await tell('POST', '/api/trap-yards/first-used', {
      pointId: point.pointId,
      species: answer.species,
      on: on === '' ? null : on,
    })
    setOpen(false)
    changed()
  }
  return (
    <Form
      form={form}
      label={words.otherDayLabel(point.name)}
      button={words.saveDay}
      fields={['on']}
      submit={submit}
      cancel={() => setOpen(false)}
    >
      <Field
        label={words.firstUsed}
        name="on"
        value={on}
        change={setOn}
        kind="date"
        hint={words.firstUsedHint}
      />
    </Form>
  )
}
