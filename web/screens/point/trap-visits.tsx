/** When the trap here is to be visited, how often, and where a visit is entered. */
import type { Point, WaterRunRow } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { withQuery } from '../../api/questions.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { Icon } from '../../parts/icon.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { trapWords as words } from '../../text/traps.ts'
import { yardWords } from '../../text/yard.ts'

interface TrapVisitsProps {
  readonly point: Point
  readonly trap: WaterRunRow['trap']
  readonly said: (words: string) => void
}

export function TrapVisits({ point, trap, said }: TrapVisitsProps) {
  return (
    <>
      <p class="trap-yard">
        <a class="button" href={withQuery('/yard', { point: point.id })}>
          <Icon name="trap" />
          {yardWords.link}
        </a>
      </p>
      {trap !== null && <p class="small">{words.visitedBy(trap.visitedBy, trap.visitedAt)}</p>}
      <details class="other-states">
        <summary>{words.hoursHead}</summary>
        <HoursForm point={point} hours={trap?.visitHours ?? null} said={said} />
      </details>
    </>
  )
}

function HoursForm({
  point,
  hours,
  said,
}: {
  readonly point: Point
  readonly hours: number | null
  readonly said: (words: string) => void
}) {
  const form = useForm()
  const fields = useFields({ hours: hours === null ? '' : String(hours) })
  const submit = async () => {
    const typed = fields.typed.hours.trim()
    await tell('PUT', `/api/points/${point.id}/trap-hours`, {
      hours: typed === '' ? null : typedNumber(typed),
    })
    said(words.hoursSaid)
  }
  return (
    <Form form={form} label={words.hoursHead} button={words.hoursSave} fields={fields.names} submit={submit}>
      <Field label={words.hours} hint={words.pointHoursHint} kind="number" {...fields.of('hours')} />
    </Form>
  )
}
