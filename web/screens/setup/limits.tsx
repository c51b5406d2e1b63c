/** How much is taken: of one photo, and of one camera. */
import type { IntakeLimitsAnswer } from '../../../services/http/source-shapes.ts'
import { tell } from '../../api/ask.ts'
import { intakeLimitsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { limitsWords as words } from '../../text/limits.ts'
import { setupWords } from '../../text/setup.ts'

export function LimitsSetup() {
  const { answer, failure, reload } = useAnswer(intakeLimitsQuestion)
  if (answer !== null) return <LimitsForm limits={answer.limits} saved={reload} />
  return failure === null ? (
    <Skeleton shape="line" count={3} />
  ) : (
    <FailedNotice failure={failure} again={reload} />
  )
}

interface LimitsFormProps {
  readonly limits: IntakeLimitsAnswer['limits']
  readonly saved: () => void
}

function LimitsForm({ limits, saved }: LimitsFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({
    stillMegabytes: String(limits.stillMegabytes),
    megapixels: String(limits.megapixels),
    stillsAMinute: String(limits.stillsAMinute ?? ''),
    stillsADay: String(limits.stillsADay ?? ''),
  })
  const orNone = (text: string) => (text.trim() === '' ? null : typedNumber(text))
  const submit = async () => {
    await tell('PUT', '/api/intake-limits', {
      stillMegabytes: typedNumber(typed.stillMegabytes),
      megapixels: typedNumber(typed.megapixels),
      stillsAMinute: orNone(typed.stillsAMinute),
      stillsADay: orNone(typed.stillsADay),
    })
    saved()
  }
  return (
    <Form form={form} label={setupWords.parts.limits} button={words.save} fields={names} submit={submit}>
      <p class="hint">{words.hint}</p>
      <div class="field-pair">
        <Field label={words.bytes} {...of('stillMegabytes')} kind="number" />
        <Field label={words.pixels} {...of('megapixels')} kind="number" />
      </div>
      <div class="field-pair">
        <Field label={words.minute} {...of('stillsAMinute')} kind="number" hint={words.none} />
        <Field label={words.day} {...of('stillsADay')} kind="number" hint={words.none} />
      </div>
    </Form>
  )
}
