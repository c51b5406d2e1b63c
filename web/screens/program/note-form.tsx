/** A note at a point of the list. */
import { useState } from 'preact/hooks'
import type { TargetLine } from '../../../services/http/program-shapes.ts'
import { Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useForm } from '../../parts/use-form.ts'
import { programWords as words } from '../../text/programs.ts'
import type { SayEdit } from './target-list.tsx'

interface NoteFormProps {
  readonly line: TargetLine
  readonly say: SayEdit
  readonly close: () => void
}

export function NoteForm({ line, say, close }: NoteFormProps) {
  const form = useForm()
  const [text, setText] = useState(line.note ?? '')
  const submit = async () => {
    // What is refused is told above the list, and the form stays with what was typed.
    if (await say({ kind: 'note', pointId: line.pointId, text })) close()
  }
  return (
    <Form
      form={form}
      label={words.noteAt(line.name)}
      button={words.saveNote}
      fields={['text']}
      submit={submit}
      cancel={close}
    >
      <Field label={words.noteAt(line.name)} name="text" value={text} change={setText} />
    </Form>
  )
}
