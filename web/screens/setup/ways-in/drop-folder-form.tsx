/** The form of a drop folder. */
import { tell } from '../../../api/ask.ts'
import { Choice, Field, typedNumber } from '../../../parts/field.tsx'
import { Form } from '../../../parts/form.tsx'
import { useFields } from '../../../parts/use-fields.ts'
import { useForm } from '../../../parts/use-form.ts'
import { AFTERWARDS_CHOICES, waysInWords } from '../../../text/ways-in.ts'
import type { SourceFormProps } from './ways-in.tsx'

const words = waysInWords.folder

export function DropFolderForm({ camera, source, saved, cancel }: SourceFormProps) {
  const form = useForm()
  const before = source?.settings ?? {}
  const { typed, names, of } = useFields({
    folder: String(before.folder ?? ''),
    afterwards: String(before.afterwards ?? 'move'),
    everySeconds: String(before.everySeconds ?? 10),
    quietSeconds: String(before.quietSeconds ?? 10),
    patienceMinutes: String(before.patienceMinutes ?? 30),
  })
  const submit = async () => {
    const settings = {
      folder: typed.folder,
      afterwards: typed.afterwards,
      everySeconds: typedNumber(typed.everySeconds),
      quietSeconds: typedNumber(typed.quietSeconds),
      patienceMinutes: typedNumber(typed.patienceMinutes),
    }
    const path = `/api/cameras/${camera.id}/sources`
    if (source === null) await tell('POST', path, { kind: 'drop folder', settings })
    else await tell('PATCH', `${path}/${source.id}`, { settings })
    saved()
  }
  return (
    <Form
      form={form}
      label={waysInWords.kinds['drop folder']}
      button={waysInWords.save}
      fields={names}
      submit={submit}
      cancel={cancel}
    >
      <Field label={words.folder} {...of('folder')} hint={words.folderHint} required />
      <Choice label={words.afterwards} {...of('afterwards')} choices={AFTERWARDS_CHOICES} />
      <div class="field-pair">
        <Field label={words.quiet} {...of('quietSeconds')} kind="number" />
        <Field label={words.every} {...of('everySeconds')} kind="number" />
        <Field label={words.patience} {...of('patienceMinutes')} kind="number" />
      </div>
    </Form>
  )
}
