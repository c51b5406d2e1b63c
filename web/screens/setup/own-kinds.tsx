/** Kinds of one's own: the list, one more, one off. */
import { tell } from '../../api/ask.ts'
import { Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { Sure } from '../../parts/sure.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { kindTitle, ownAnimalWords as words } from '../../text/own-animals.ts'

interface OwnKindsProps {
  readonly kinds: readonly string[]
  readonly changed: () => void
}

export function OwnKinds({ kinds, changed }: OwnKindsProps) {
  return (
    <>
      {kinds.length === 0 && <p>{words.noKinds}</p>}
      <ul class="setup-list">
        {kinds.map((kind) => (
          <OneKind kind={kind} changed={changed} key={kind} />
        ))}
      </ul>
      {/* A fresh form once one is in. */}
      <KindForm added={changed} key={kinds.length} />
    </>
  )
}

function OneKind({ kind, changed }: { readonly kind: string; readonly changed: () => void }) {
  const form = useForm()
  const remove = async () => {
    await tell('DELETE', `/api/kinds/${encodeURIComponent(kind)}`, {})
    changed()
  }
  return (
    <li class="setup-item">
      <p>
        <strong>{kindTitle(kind)}</strong>
      </p>
      <Sure
        form={form}
        label={words.removeLabel(kind)}
        warns={words.removeSure}
        yes={words.removeYes}
        act={remove}
      >
        {words.remove}
      </Sure>
    </li>
  )
}

function KindForm({ added }: { readonly added: () => void }) {
  const form = useForm()
  const { typed, names, of } = useFields({ name: '' })
  const submit = async () => {
    await tell('POST', '/api/kinds', { name: typed.name })
    added()
  }
  return (
    <Form form={form} label={words.kinds} button={words.addKind} fields={names} submit={submit}>
      <Field label={words.kindName} {...of('name')} required />
    </Form>
  )
}
