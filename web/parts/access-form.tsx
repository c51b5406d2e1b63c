/** How a point is reached, changed beside it on a target list. */
import type { Access } from '../../services/http/program-shapes.ts'
import { tell } from '../api/ask.ts'
import { accessFieldWords } from '../text/getting-there.ts'
import { programWords } from '../text/programs.ts'
import { AccessFields, typedAccess } from './access-fields.tsx'
import { Form } from './form.tsx'
import { useFields } from './use-fields.ts'
import { useForm } from './use-form.ts'
import { whoSays } from './who.ts'

interface AccessFormProps {
  readonly point: { readonly id: number; readonly name: string }
  readonly access: Access | null
  readonly done: () => void
  readonly cancel: () => void
}

export function AccessForm({ point, access, done, cancel }: AccessFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({ ...typedAccess(access) })
  const submit = async () => {
    await tell('PUT', `/api/points/${point.id}/access`, { ...typed, who: whoSays() })
    done()
  }
  return (
    <Form
      form={form}
      label={programWords.accessAt(point.name)}
      button={accessFieldWords.save}
      fields={names}
      submit={submit}
      cancel={cancel}
    >
      <AccessFields access={access} of={of} />
    </Form>
  )
}
