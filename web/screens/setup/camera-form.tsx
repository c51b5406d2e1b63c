/** The form of one camera, new or changed. */
import type { Camera, CameraWithKey, Point } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { Choice, Field, Tick, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { startOfDay } from '../../parts/start-of-day.ts'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.cameras
const EXPECTED_SILENCE_HOURS = 26

interface CameraFormProps {
  readonly camera: Camera | null
  readonly points: readonly Point[]
  /** The station's: days begin by it. */
  readonly zone: string
  readonly done: (made: CameraWithKey | null) => void
  readonly cancel: () => void
}

export function CameraForm({ camera, points, zone, done, cancel }: CameraFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({
    name: camera?.name ?? '',
    since: '',
    pointId: String(camera?.pointId ?? points[0]?.id ?? ''),
    expectedSilenceHours: String(camera?.expectedSilenceHours ?? EXPECTED_SILENCE_HOURS),
    sendsHeartbeats: camera?.sendsHeartbeats ?? true,
    scheduleMinutes: String(camera?.scheduleMinutes ?? ''),
    clockErrorSeconds: String(camera?.clockErrorSeconds ?? 0),
    zone: camera?.zone ?? '',
    searchTiles: camera?.searchTiles ?? false,
  })
  const submit = async () => {
    const { since, ...others } = typed
    const body = {
      ...others,
      pointId: typedNumber(typed.pointId),
      expectedSilenceHours: typedNumber(typed.expectedSilenceHours),
      scheduleMinutes: typed.scheduleMinutes.trim() === '' ? null : typedNumber(typed.scheduleMinutes),
      clockErrorSeconds: typedNumber(typed.clockErrorSeconds),
      zone: typed.zone.trim() === '' ? null : typed.zone.trim(),
    }
    if (camera === null) {
      const putUp = since === '' ? {} : { since: startOfDay(since, zone) }
      done(await tell<CameraWithKey>('POST', '/api/cameras', { ...body, ...putUp }))
    } else {
      await tell('PATCH', `/api/cameras/${camera.id}`, body)
      done(null)
    }
  }
  return (
    <Form
      form={form}
      label={camera?.name ?? words.add}
      button={words.save}
      fields={names}
      submit={submit}
      cancel={cancel}
    >
      <Field label={words.name} {...of('name')} required />
      <Choice
        label={words.point}
        {...of('pointId')}
        choices={points.map((point) => ({ value: String(point.id), words: point.name }))}
      />
      {camera === null && <Field label={words.since} {...of('since')} kind="date" hint={words.sinceHint} />}
      <div class="field-pair">
        <Field label={words.silence} {...of('expectedSilenceHours')} kind="number" hint={words.silenceHint} />
        <Field label={words.schedule} {...of('scheduleMinutes')} kind="number" hint={words.scheduleHint} />
      </div>
      <Tick label={words.heartbeats} {...of('sendsHeartbeats')} />
      <Tick label={words.closer} {...of('searchTiles')} />
      <div class="field-pair">
        <Field label={words.clock} {...of('clockErrorSeconds')} kind="number" hint={words.clockHint} />
        <Field
          label={words.zone}
          {...of('zone')}
          hint={words.zoneHint}
          choices={Intl.supportedValuesOf('timeZone')}
        />
      </div>
    </Form>
  )
}
