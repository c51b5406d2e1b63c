/** Which nights and which points are compared, by hand. */
import { useState } from 'preact/hooks'
import { useLocation } from 'preact-iso'
import type { DidItWorkAnswer } from '../../../../services/http/did-it-work-shapes.ts'
import { pointsQuestion, withQuery } from '../../../api/questions.ts'
import { useAnswer } from '../../../api/use-answer.ts'
import { Field, Tick } from '../../../parts/field.tsx'
import { Fold } from '../../../parts/fold.tsx'
import { Form } from '../../../parts/form.tsx'
import { useFields } from '../../../parts/use-fields.ts'
import { useForm } from '../../../parts/use-form.ts'
import { didItWorkWords as words } from '../../../text/did-it-work.ts'

export function Compared({ answer }: { readonly answer: DidItWorkAnswer }) {
  const [open, setOpen] = useState(false)
  return (
    <div class="screen-only">
      <Fold head={<h3>{words.compare}</h3>} open={open} turned={setOpen}>
        <CompareForm answer={answer} />
      </Fold>
    </div>
  )
}

const nightsIn = ({ from, to }: { readonly from: string; readonly to: string }) =>
  String(Math.round((Date.parse(to) - Date.parse(from)) / 86_400_000) + 1)

function CompareForm({ answer }: { readonly answer: DidItWorkAnswer }) {
  const form = useForm()
  const { route } = useLocation()
  const { answer: all } = useAnswer(pointsQuestion)
  const { typed, of } = useFields({
    before: nightsIn(answer.before),
    after: answer.after === null ? '' : nightsIn(answer.after),
  })
  const [chosen, setChosen] = useState(
    () => new Set(answer.points.filter(({ part }) => part === 'program').map(({ pointId }) => pointId)),
  )
  const path = `/programs/${answer.program.id}/did-it-work`
  const turn = (id: number, is: boolean) => {
    const next = new Set(chosen)
    if (is) next.add(id)
    else next.delete(id)
    setChosen(next)
  }
  const submit = async () => {
    const points = [...chosen].sort((a, b) => a - b).join(',')
    route(withQuery(path, { before: typed.before.trim(), after: typed.after.trim(), points }))
  }
  return (
    <Form
      form={form}
      label={words.compare}
      button={words.compareNow}
      fields={['before', 'after']}
      submit={submit}
    >
      <p class="hint">{words.compareHint}</p>
      <div class="field-pair">
        <Field label={words.before} {...of('before')} kind="number" />
        <Field label={words.after} {...of('after')} kind="number" />
      </div>
      <fieldset>
        <legend>{words.points}</legend>
        <div class="worked-ticks">
          {all?.points.map(({ id, name }) => (
            <Tick
              label={name}
              name={`point-${id}`}
              value={chosen.has(id)}
              change={(is) => turn(id, is)}
              key={id}
            />
          ))}
        </div>
      </fieldset>
      <a class="tall-link" href={path}>
        {words.usual}
      </a>
    </Form>
  )
}
