/** The form of one camera, new or changed. */
import { useState } from 'preact/hooks'
import type { Camera, CameraWithKey, Point } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { Choice, Field, Tick, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.cameras
const FIELDS = [
  'name',
  'pointId',
  'expectedSilenceHours',
  'scheduleMinutes',
  'clockErrorSeconds',
  'zone',
] as const
const EXPECTED_SILENCE_HOURS = 26

interface CameraFormProps {
  readonly camera: Camera | null
  readonly points: readonly Point[]
  readonly done: (made: CameraWithKey | null) => void
  readonly cancel: () => void
}

export function CameraForm({ camera, points, done, cancel }: CameraFormProps) {
  const form = useForm()
  const [name, setName] = useState(camera?.name ?? '')
  const [pointId, setPointId] = useState(String(camera?.pointId ?? points[0]?.id ?? ''))
  const [silence, setSilence] = useState(String(camera?.expectedSilenceHours ?? EXPECTED_SILENCE_HOURS))
  const [heartbeats, setHeartbeats] = useState(camera?.sendsHeartbeats ?? true)
  const [schedule, setSchedule] = useState(
    camera?.scheduleMinutes == null ? '' : String(camera.scheduleMinutes),
  )
  const [clock, setClock] = useState(String(camera?.clockErrorSeconds ?? 0))
  const [zone, setZone] = useState(camera?.zone ?? '')
  const submit = async () => {
    const body = {
      name,
      pointId: typedNumber(pointId),
      expectedSilenceHours: typedNumber(silence),
      sendsHeartbeats: heartbeats,
      scheduleMinutes: schedule.trim() === '' ? null : typedNumber(schedule),
      clockErrorSeconds: typedNumber(clock),
      zone: zone.trim() === '' ? null : zone.trim(),
    }
    if (camera === null) done(await tell<CameraWithKey>('POST', '/api/cameras', body))
    else {
      await tell('PATCH', `/api/cameras/${camera.id}`, body)
      done(null)
    }
  }
  const { failure } = form
  return (
    <Form
      form={form}
      label={camera?.name ?? words.add}
      button={words.save}
      fields={FIELDS}
      submit={submit}
      cancel={cancel}
    >
      <Field label={words.name} name="name" value={name} change={setName} failure={failure} required />
      <Choice
        label={words.point}
        name="pointId"
        value={pointId}
        choices={points.map((point) => ({ value: String(point.id), words: point.name }))}
        change={setPointId}
      />
      <div class="field-pair">
        <Field
          label={words.silence}
          name="expectedSilenceHours"
          value={silence}
          change={setSilence}
          failure={failure}
          kind="number"
        />
        <Field
          label={words.schedule}
          name="scheduleMinutes"
          value={schedule}
          change={setSchedule}
          failure={failure}
          kind="number"
        />
      </div>
      <Tick label={words.heartbeats} name="sendsHeartbeats" on={heartbeats} change={setHeartbeats} />
      <div class="field-pair">
        <Field
          label={words.clock}
          name="clockErrorSeconds"
          value={clock}
          change={setClock}
          failure={failure}
          kind="number"
          hint={words.clockHint}
        />
        <Field
          label={words.zone}
          name="zone"
          value={zone}
          change={setZone}
          failure={failure}
          choices={Intl.supportedValuesOf('timeZone')}
        />
      </div>
    </Form>
  )
}
