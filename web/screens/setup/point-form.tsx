/** The form of one point, new or changed. */
import { useState } from 'preact/hooks'
import type { Access } from '../../../services/http/program-shapes.ts'
import type { Point } from '../../../services/http/shapes.ts'
import { POINT_KINDS } from '../../../services/words.ts'
import { tell } from '../../api/ask.ts'
import { AccessFields, typedAccess } from '../../parts/access-fields.tsx'
import { Choice, Field, Tick, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { PlaceFields } from '../../parts/place-fields.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { whoSays } from '../../parts/who.ts'
import { accessFieldWords } from '../../text/getting-there.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.points
const KIND_CHOICES = POINT_KINDS.map((kind) => ({ value: kind, words: kind }))

interface PointFormProps {
  readonly point: Point | null
  readonly access: Access | null
  readonly done: () => void
  readonly cancel: () => void
}

export function PointForm({ point, access, done, cancel }: PointFormProps) {
  const form = useForm()
  // A new point that is added, and of which the rest was refused, is not added again.
  const [id, setId] = useState(point?.id ?? null)
  const reached = useFields({ ...typedAccess(access) })
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
    const put =
      id === null
        ? await tell<{ point: Point }>('POST', '/api/points', body)
        : await tell<{ point: Point }>('PATCH', `/api/points/${id}`, body)
    setId(put.point.id)
    const before = typedAccess(access)
    if (
      reached.names.some(
        (name) => reached.typed[name as keyof typeof before] !== before[name as keyof typeof before],
      )
    )
      await tell('PUT', `/api/points/${put.point.id}/access`, { ...reached.typed, who: whoSays() })
    done()
  }
  return (
    <Form
      form={form}
      label={point?.name ?? words.add}
      button={words.save}
      fields={[...names, ...reached.names]}
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
      <fieldset class="form">
        <legend>{accessFieldWords.title}</legend>
        <AccessFields access={access} of={reached.of} />
      </fieldset>
    </Form>
  )
}
