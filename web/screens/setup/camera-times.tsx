/** When a camera stood where: put up, moved, taken down, and put right later. */
import { useState } from 'preact/hooks'
import type { CameraTimesAnswer } from '../../../services/http/clock-shapes.ts'
import type { Camera, Point } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { cameraTimesQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Choice, Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { atWallClock, startOfDay } from '../../parts/start-of-day.ts'
import { useForm } from '../../parts/use-form.ts'
import { cameraTimesWords as words } from '../../text/cameras.ts'
import { placingWords } from '../../text/clocks.ts'
import { dateOf } from '../../text/times.ts'

interface CameraTimesProps {
  readonly camera: Camera
  readonly points: readonly Point[]
  /** The station's. */
  readonly zone: string
  readonly changed: () => void
}

export function CameraTimes({ camera, points, zone, changed }: CameraTimesProps) {
  const { answer, failure, reload } = useAnswer(cameraTimesQuestion(camera.id))
  if (answer === null) {
    return failure === null ? (
      <Skeleton shape="line" count={2} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  }
  const done = () => {
    reload()
    changed()
  }
  return (
    <div class="camera-times">
      <h4>{words.title}</h4>
      <p class="hint">{words.hint}</p>
      {answer.placing !== null && <p class="fact fact-plain">{placingWords(answer.placing)}</p>}
      <TimesForm camera={camera} answer={answer} points={points} zone={zone} done={done} key={camera.id} />
    </div>
  )
}

interface TypedTime {
  readonly pointId: string
  readonly fromDate: string
  readonly fromClock: string
  readonly toDate: string
  readonly toClock: string
}

const typedOf = (time: CameraTimesAnswer['times'][number]): TypedTime => ({
  pointId: String(time.pointId),
  fromDate: time.from === null ? '' : dateOf(time.from),
  fromClock: time.from?.slice(11, 19) ?? '',
  toDate: time.to === null ? '' : dateOf(time.to),
  toClock: time.to?.slice(11, 19) ?? '',
})

interface TimesFormProps {
  readonly camera: Camera
  readonly answer: CameraTimesAnswer
  readonly points: readonly Point[]
  readonly zone: string
  readonly done: () => void
}

function TimesForm({ camera, answer, points, zone, done }: TimesFormProps) {
  const form = useForm()
  const [times, setTimes] = useState<readonly TypedTime[]>(answer.times.map(typedOf))
  const last = times.length - 1
  const isDown = times[last]?.toDate !== ''
  const change = (index: number, part: Partial<TypedTime>) =>
    setTimes((before) => before.map((time, i) => (i === index ? { ...time, ...part } : time)))
  const add = () =>
    setTimes((before) => [
      ...before,
      { pointId: before.at(-1)?.pointId ?? '', fromDate: '', fromClock: '', toDate: '', toClock: '' },
    ])
  const submit = async () => {
    await tell('PUT', `/api/cameras/${camera.id}/times`, {
      times: times.map(({ pointId, ...time }) => ({
        pointId: Number(pointId),
        from: instantOf(time.fromDate, time.fromClock, zone),
        to: instantOf(time.toDate, time.toClock, zone),
      })),
    })
    done()
  }
  const names = times.flatMap((_, i) => [`times.${i}.from`, `times.${i}.to`, `times.${i}.pointId`])
  return (
    <Form form={form} label={words.title} button={words.save} fields={names} submit={submit}>
      {times.map((time, i) => (
        <fieldset class="camera-time" key={i}>
          <legend>{words.time(i + 1)}</legend>
          <Choice
            label={words.point}
            name={`times.${i}.pointId`}
            value={time.pointId}
            change={(pointId) => change(i, { pointId })}
            choices={points.map((point) => ({ value: String(point.id), words: point.name }))}
          />
          <div class="field-pair">
            <Field
              label={words.putUp}
              name={`times.${i}.from`}
              value={time.fromDate}
              change={(fromDate) => change(i, { fromDate })}
              kind="date"
              {...(i === 0 ? { hint: words.putUpHint } : {})}
            />
            <Field
              label={words.at}
              name={`times.${i}.fromClock`}
              value={time.fromClock}
              change={(fromClock) => change(i, { fromClock })}
              kind="clock"
            />
          </div>
          <div class="field-pair">
            <Field
              label={words.takenDown}
              name={`times.${i}.to`}
              value={time.toDate}
              change={(toDate) => change(i, { toDate })}
              kind="date"
              {...(i === last ? { hint: words.takenDownHint } : {})}
            />
            <Field
              label={words.at}
              name={`times.${i}.toClock`}
              value={time.toClock}
              change={(toClock) => change(i, { toClock })}
              kind="clock"
            />
          </div>
        </fieldset>
      ))}
      {isDown && (
        <button type="button" class="button" onClick={add}>
          {words.again}
        </button>
      )}
    </Form>
  )
}

/** Without a clock time the day's beginning is meant. */
function instantOf(date: string, clock: string, zone: string): string | null {
  if (date === '') return null
  return clock === '' ? startOfDay(date, zone) : atWallClock(date, clock, zone)
}
