/** How many looks are drawn a week. */
import { tell } from '../../api/ask.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { blindLookWords } from '../../text/blind-look.ts'

const words = blindLookWords.setting

interface LooksAWeekProps {
  readonly looksAWeek: number
  readonly saved: () => void
}

export function LooksAWeek({ looksAWeek, saved }: LooksAWeekProps) {
  const form = useForm()
  const { typed, names, of } = useFields({ looksAWeek: String(looksAWeek) })
  const submit = async () => {
    await tell('PUT', '/api/audits', { looksAWeek: typedNumber(typed.looksAWeek) })
    saved()
  }
  return (
    <Form form={form} label={words.label} button={words.save} fields={names} submit={submit}>
      <Field label={words.label} {...of('looksAWeek')} kind="number" hint={words.hint} />
    </Form>
  )
}
