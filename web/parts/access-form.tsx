/** How a point is reached, typed by the owner: on the point's form in Set-up, and beside it on a target list. */
import type { Access } from '../../services/http/program-shapes.ts'
import { tell } from '../api/ask.ts'
import { programWords } from '../text/programs.ts'
import { Field } from './field.tsx'
import { Form } from './form.tsx'
import { useFields } from './use-fields.ts'
import { useForm } from './use-form.ts'
import { whoSays } from './who.ts'

const words = programWords.access

interface AccessFormProps {
  readonly point: { readonly id: number; readonly name: string }
  readonly access: Access | null
  readonly done: () => void
  readonly cancel: () => void
}

export function AccessForm({ point, access, done, cancel }: AccessFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({
    road: access?.road ?? '',
    gates: access?.gates ?? '',
    wetSeason: access?.wetSeason ?? '',
    turnaround: access?.turnaround ?? '',
  })
  const submit = async () => {
    await tell('PUT', `/api/points/${point.id}/access`, { ...typed, who: whoSays() })
    done()
  }
  return (
    <Form
      form={form}
      label={programWords.accessAt(point.name)}
      button={words.save}
      fields={names}
      submit={submit}
      cancel={cancel}
    >
      <p class="hint">{words.hint}</p>
      {(['road', 'gates', 'wetSeason', 'turnaround'] as const).map((field) => (
        <Field label={words.fields[field]} hint={words.hints[field]} {...of(field)} key={field} />
      ))}
      {access !== null && <p class="hint">{words.old(access.at, access.who)}</p>}
    </Form>
  )
}
