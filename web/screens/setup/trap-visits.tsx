/** How often every set trap of the station is to be visited. */
import { useState } from 'preact/hooks'
import type { TrapHoursAnswer } from '../../../services/http/yard-shapes.ts'
import { tell } from '../../api/ask.ts'
import { trapHoursQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { trapSafety } from '../../text/safety.ts'
import { trapWords as words } from '../../text/traps.ts'

export function TrapVisitSetup() {
  const { answer, failure, reload } = useAnswer(trapHoursQuestion)
  if (failure !== null) return <FailedNotice failure={failure} again={reload} />
  if (answer === null) return <Skeleton shape="line" count={2} />
  return <HoursForm hours={answer} />
}

function HoursForm({ hours }: { readonly hours: TrapHoursAnswer }) {
  const form = useForm()
  const [typed, setTyped] = useState(String(hours.stationHours))
  const submit = async () => {
    await tell('PUT', '/api/trap-hours', { hours: typedNumber(typed) })
  }
  return (
    <Form form={form} label={words.hoursHead} button={words.hoursSave} fields={['hours']} submit={submit}>
      <Field
        label={words.hours}
        hint={words.stationHoursHint}
        name="hours"
        kind="number"
        value={typed}
        change={setTyped}
      />
      <p class="small">{trapSafety.visit}</p>
    </Form>
  )
}
