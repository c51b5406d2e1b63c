/** Cameras: the list, a form for one, and its key, which is shown once. */
import { useState } from 'preact/hooks'
import type { Camera, CameraWithKey, Point } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { camerasQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Choice, Field, Tick, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'
import { CameraKey } from './camera-key.tsx'

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

interface CameraSetupProps {
  readonly points: readonly Point[]
}

export function CameraSetup({ points: pointList }: CameraSetupProps) {
  const { answer, failure, reload } = useAnswer(camerasQuestion)
  const [editing, setEditing] = useState<number | 'new' | null>(null)
  const [shown, setShown] = useState<CameraWithKey | null>(null)
  const nameOf = (id: number) => pointList.find((point) => point.id === id)?.name ?? ''
  const done = (made: CameraWithKey | null) => {
    setEditing(null)
    if (made !== null) setShown(made)
    reload()
  }
  return (
    <>
      {answer === null && failure === null && <Skeleton shape="line" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer?.cameras.length === 0 && (
        <EmptyNotice words={pointList.length === 0 ? words.needPoint : words.none} />
      )}
      {shown !== null && <CameraKey made={shown} close={() => setShown(null)} />}
      <ul class="setup-list">
        {answer?.cameras.map((camera) => (
          <li key={camera.id}>
            {editing === camera.id ? (
              <CameraForm camera={camera} points={pointList} done={done} cancel={() => setEditing(null)} />
            ) : (
              <div class="setup-item">
                <p>
                  <strong>{camera.name}</strong>
                  <small>
                    {nameOf(camera.pointId)}. {words.keyHint(camera.keyHint)}
                  </small>
                </p>
                <div class="button-row">
                  <button
                    type="button"
                    class="button"
                    onClick={() => setEditing(camera.id)}
                    aria-label={`${setupWords.change} ${camera.name}`}
                  >
                    {setupWords.change}
                  </button>
                  <NewKey camera={camera} made={done} />
                </div>
              </div>
            )}
          </li>
        ))}
      </ul>
      {editing === 'new' ? (
        <CameraForm camera={null} points={pointList} done={done} cancel={() => setEditing(null)} />
      ) : (
        pointList.length > 0 && (
          <button type="button" class="button button-strong" onClick={() => setEditing('new')}>
            {words.add}
          </button>
        )
      )}
    </>
  )
}

interface NewKeyProps {
  readonly camera: Camera
  readonly made: (made: CameraWithKey) => void
}

function NewKey({ camera, made }: NewKeyProps) {
  const form = useForm()
  const [asked, setAsked] = useState(false)
  const make = () =>
    form.submit(async () => {
      made(await tell<CameraWithKey>('POST', `/api/cameras/${camera.id}/key`, {}))
      setAsked(false)
    })
  if (!asked) {
    return (
      <button
        type="button"
        class="button"
        onClick={() => setAsked(true)}
        aria-label={`${words.newKey}: ${camera.name}`}
      >
        {words.newKey}
      </button>
    )
  }
  return (
    <div class="sure" role="alert">
      <p>{words.newKeyWarns}</p>
      <div class="button-row">
        <button type="button" class="button button-strong" onClick={make} disabled={form.sending}>
          {words.newKeyYes}
        </button>
        <button type="button" class="button" onClick={() => setAsked(false)}>
          {setupWords.cancel}
        </button>
      </div>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}

interface CameraFormProps {
  readonly camera: Camera | null
  readonly points: readonly Point[]
  readonly done: (made: CameraWithKey | null) => void
  readonly cancel: () => void
}

function CameraForm({ camera, points, done, cancel }: CameraFormProps) {
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
