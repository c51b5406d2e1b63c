/** When a photo was really taken, and which others move with it: what would change is shown while it is typed. */
import type { ShiftPreview } from '../../../services/http/clock-shapes.ts'
import type { Still } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { shiftPreviewQuestion, stationQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Choice, Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton, Spoken } from '../../parts/notice.tsx'
import { atWallClock } from '../../parts/start-of-day.ts'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { fullTime, previewWords, clockWords as words } from '../../text/clocks.ts'
import { dateOf } from '../../text/times.ts'

const RUNS = ['photo', 'in doubt', 'from here', 'up to here', 'at this point', 'all'] as const
type Run = (typeof RUNS)[number]

interface TimeFormProps {
  readonly still: Still
  readonly done: () => void
}

export function TimeForm({ still, done }: TimeFormProps) {
  const station = useAnswer(stationQuestion)
  const form = useForm()
  const doubtful = still.clockDoubt !== null
  const { typed, of } = useFields({
    date: dateOf(still.takenAt),
    clock: still.takenAt.slice(11, 19),
    run: (doubtful ? 'in doubt' : 'photo') as string,
    note: '',
  })
  const zone = station.answer?.station?.zone ?? null
  const takenAt = zone === null ? null : atWallClock(typed.date, typed.clock, zone)
  const same = takenAt !== null && Date.parse(takenAt) === Math.floor(Date.parse(still.takenAt) / 1000) * 1000
  const whole = takenAt !== null && !Number.isNaN(Date.parse(takenAt))
  const asked = same ? still.takenAt : takenAt
  const preview = useAnswer(
    whole && (doubtful || !same)
      ? shiftPreviewQuestion({ still: still.id, takenAt: asked, run: typed.run })
      : null,
  )
  if (station.answer === null) {
    return station.failure === null ? (
      <Skeleton shape="line" count={3} />
    ) : (
      <FailedNotice failure={station.failure} again={station.reload} />
    )
  }
  const submit = async () => {
    await tell('POST', '/api/shifts', {
      stillId: still.id,
      takenAt: asked,
      run: typed.run,
      ...(typed.note.trim() === '' ? {} : { note: typed.note.trim() }),
    })
    done()
  }
  const runs = RUNS.filter((run) => run !== 'in doubt' || doubtful)
  return (
    <Form
      form={form}
      label={words.fold}
      button={same && doubtful ? words.buttonRight : words.button}
      fields={['takenAt', 'run', 'note']}
      submit={submit}
    >
      <div class="field-pair">
        <Field label={words.date} {...of('date')} kind="date" />
        <Field label={words.clock} {...of('clock')} name="takenAt" kind="clock" hint={words.clockHint} />
      </div>
      <Choice<Run>
        label={words.which}
        name="run"
        value={typed.run as Run}
        change={(run) => of('run').change(run)}
        choices={runs.map((value) => ({ value, words: words.runs[value] }))}
      />
      <Field label={words.note} {...of('note')} hint={words.noteHint} />
      {preview.failure !== null && !same && <FailedNotice failure={preview.failure} />}
      {preview.answer !== null && preview.failure === null && <BeforeAfter preview={preview.answer} />}
      {same && preview.answer === null && <p class="hint">{words.typeTime}</p>}
      <p class="hint">{words.later}</p>
    </Form>
  )
}

function BeforeAfter({ preview }: { readonly preview: ShiftPreview }) {
  const rows = [
    { words: words.thisPhoto, ...preview.photo },
    ...(preview.photos > 1
      ? [
          { words: words.first, ...preview.first },
          { words: words.last, ...preview.last },
        ]
      : []),
  ]
  return (
    <div class="before-after">
      <Spoken words={previewWords(preview)} />
      <table>
        <thead>
          <tr>
            <td />
            <th scope="col">{words.before}</th>
            <th scope="col">{words.after}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.words}>
              <th scope="row">
                <a href={`/photos/${row.stillId}`}>{row.words}</a>
              </th>
              <td>{fullTime(row.before)}</td>
              <td>{fullTime(row.after)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  )
}
