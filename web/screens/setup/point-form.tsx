/** The form of one point, new or changed. */
import type { Point } from '../../../services/http/shapes.ts'
import { POINT_KINDS } from '../../../services/words.ts'
import { tell } from '../../api/ask.ts'
import { Choice, Field, Tick, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { PlaceFields } from '../../parts/place-fields.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.points
const KIND_CHOICES = POINT_KINDS.map((kind) => ({ value: kind, words: kind }))

interface PointFormProps {
  readonly point: Point | null
  readonly done: () => void
  readonly cancel: () => void
}

export function PointForm({ point, done, cancel }: PointFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({
    name: point?.name ?? '',
    kind: point?.kind ?? 'bore',
    lat: String(point?.lat ?? ''),
    lon: String(point?.lon ?? ''),
    hasYard: point?.hasYard ?? false,
    runOrder: String(point?.runOrder ?? ''),
    lowMarkPercent: String(point?.lowMarkPercent ?? 40),
    dryMarkPercent: String(point?.dryMarkPercent ?? 5),
  })
  const submit = async () => {
    const { runOrder, ...others } = typed
    const body = {
      ...others,
      lat: typedNumber(typed.lat),
      lon: typedNumber(typed.lon),
      ...(runOrder.trim() === '' ? {} : { runOrder: typedNumber(runOrder) }),
      lowMarkPercent: typedNumber(typed.lowMarkPercent),
      dryMarkPercent: typedNumber(typed.dryMarkPercent),
    }
    if (point === null) await tell('POST', '/api/points', body)
    else await tell('PATCH', `/api/points/${point.id}`, body)
    done()
  }
  return (
    <Form
      form={form}
      label={point?.name ?? words.add}
      button={words.save}
      fields={names}
      submit={submit}
      cancel={cancel}
    >
      <Field label={words.name} {...of('name')} required />
      <Choice label={words.kind} {...of('kind')} choices={KIND_CHOICES} />
      <PlaceFields words={words} lat={of('lat')} lon={of('lon')} />
      <Tick label={words.yard} {...of('hasYard')} />
      <div class="field-pair">
        <Field label={words.runOrder} {...of('runOrder')} kind="number" />
        <Field label={words.low} {...of('lowMarkPercent')} kind="number" />
        <Field label={words.dry} {...of('dryMarkPercent')} kind="number" />
      </div>
    </Form>
  )
}
