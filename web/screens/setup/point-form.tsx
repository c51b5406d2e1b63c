/** The form of one point, new or changed. */
import { useState } from 'preact/hooks'
import type { Point } from '../../../services/http/shapes.ts'
import { POINT_KINDS } from '../../../services/words.ts'
import { tell } from '../../api/ask.ts'
import { Choice, Field, Tick, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'
import { PhonePlace } from './phone-place.tsx'

const words = setupWords.points
const FIELDS = [
  'name',
  'kind',
  'lat',
  'lon',
  'hasYard',
  'runOrder',
  'lowMarkPercent',
  'dryMarkPercent',
] as const

const KIND_CHOICES = POINT_KINDS.map((kind) => ({ value: kind, words: kind }))

interface PointFormProps {
  readonly point: Point | null
  readonly done: () => void
  readonly cancel: () => void
}

export function PointForm({ point, done, cancel }: PointFormProps) {
  const form = useForm()
  const [name, setName] = useState(point?.name ?? '')
  const [kind, setKind] = useState<Point['kind']>(point?.kind ?? 'bore')
  const [lat, setLat] = useState(point === null ? '' : String(point.lat))
  const [lon, setLon] = useState(point === null ? '' : String(point.lon))
  const [hasYard, setHasYard] = useState(point?.hasYard ?? false)
  const [runOrder, setRunOrder] = useState(point === null ? '' : String(point.runOrder))
  const [low, setLow] = useState(String(point?.lowMarkPercent ?? 40))
  const [dry, setDry] = useState(String(point?.dryMarkPercent ?? 5))
  const submit = async () => {
    const body = {
      name,
      kind,
      lat: typedNumber(lat),
      lon: typedNumber(lon),
      hasYard,
      ...(runOrder.trim() === '' ? {} : { runOrder: typedNumber(runOrder) }),
      lowMarkPercent: typedNumber(low),
      dryMarkPercent: typedNumber(dry),
    }
    if (point === null) await tell('POST', '/api/points', body)
    else await tell('PATCH', `/api/points/${point.id}`, body)
    done()
  }
  const { failure } = form
  return (
    <Form
      form={form}
      label={point?.name ?? words.add}
      button={words.save}
      fields={FIELDS}
      submit={submit}
      cancel={cancel}
    >
      <Field label={words.name} name="name" value={name} change={setName} failure={failure} required />
      <Choice label={words.kind} name="kind" value={kind} choices={KIND_CHOICES} change={setKind} />
      <div class="field-pair">
        <Field
          label={words.lat}
          name="lat"
          value={lat}
          change={setLat}
          failure={failure}
          kind="degrees"
          hint={setupWords.station.degreesHint}
          required
        />
        <Field
          label={words.lon}
          name="lon"
          value={lon}
          change={setLon}
          failure={failure}
          kind="degrees"
          required
        />
      </div>
      <PhonePlace
        found={(place) => {
          setLat(place.lat)
          setLon(place.lon)
        }}
      />
      <Tick label={words.yard} name="hasYard" on={hasYard} change={setHasYard} />
      <div class="field-pair">
        <Field
          label={words.runOrder}
          name="runOrder"
          value={runOrder}
          change={setRunOrder}
          failure={failure}
          kind="number"
        />
        <Field
          label={words.low}
          name="lowMarkPercent"
          value={low}
          change={setLow}
          failure={failure}
          kind="number"
        />
        <Field
          label={words.dry}
          name="dryMarkPercent"
          value={dry}
          change={setDry}
          failure={failure}
          kind="number"
        />
      </div>
    </Form>
  )
}
