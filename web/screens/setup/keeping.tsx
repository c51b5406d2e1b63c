/** Keeping photos: what becomes of empty ones, and what that would free, before it is chosen. */
import type { KeepingAnswer } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { keepingPreviewQuestion, keepingQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Choice, Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton, Spoken } from '../../parts/notice.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { EMPTIES_CHOICES, lastRunWords, previewWords, keepingWords as words } from '../../text/keeping.ts'
import { setupWords } from '../../text/setup.ts'

export function KeepingSetup() {
  const { answer, failure, reload } = useAnswer(keepingQuestion)
  if (answer === null) {
    return failure === null ? (
      <Skeleton shape="line" count={3} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  }
  return (
    <>
      <p class="hint">{words.hint}</p>
      <KeepingForm keeping={answer.keeping} saved={reload} />
      {answer.last !== null && <p>{lastRunWords(answer.last)}</p>}
    </>
  )
}

interface KeepingFormProps {
  readonly keeping: KeepingAnswer['keeping']
  readonly saved: () => void
}

function KeepingForm({ keeping, saved }: KeepingFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({
    empties: keeping.empties as string,
    afterDays: String(keeping.afterDays),
  })
  const empties = EMPTIES_CHOICES.find(({ value }) => value === typed.empties)?.value ?? keeping.empties
  const days = typedNumber(typed.afterDays)
  const askable = empties !== 'keep' && typeof days === 'number' && Number.isInteger(days) && days > 0
  const preview = useAnswer(askable ? keepingPreviewQuestion(empties, days) : null)
  const submit = async () => {
    await tell('PUT', '/api/keeping', { empties, afterDays: days })
    saved()
  }
  return (
    <Form form={form} label={setupWords.parts.keeping} button={words.save} fields={names} submit={submit}>
      <div class="field-pair">
        <Choice label={words.empties} {...of('empties')} choices={EMPTIES_CHOICES} />
        <Field label={words.afterDays} {...of('afterDays')} kind="number" hint={words.afterDaysHint} />
      </div>
      {empties === 'keep' && <Spoken words={previewWords({ photos: 0, bytes: 0 }, empties)} />}
      {askable && preview.answer !== null && <Spoken words={previewWords(preview.answer, empties)} />}
      {askable && preview.failure !== null && <FailedNotice failure={preview.failure} />}
    </Form>
  )
}
