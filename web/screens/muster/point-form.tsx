/** What a person says of one point of the muster, in place of cameras, Set-up and the figures of all points. */
import type { MusterAnswerShape } from '../../../services/http/muster-shapes.ts'
import { Choice, Field, Tick, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { musterWords } from '../../text/muster.ts'
import { nameOf, pointFigures, saveFigures } from './save-figures.ts'

const words = musterWords.point
type Yard = 'as in Set-up' | 'there' | 'none'

interface PointFormProps {
  readonly answer: MusterAnswerShape
  readonly pointId: number
  readonly done: () => void
  readonly cancel: () => void
}

const text = (value: number | undefined | null) => (value == null ? '' : String(value))

export function PointFiguresForm({ answer, pointId, done, cancel }: PointFormProps) {
  const form = useForm()
  const own = pointFigures(answer, pointId)
  const { typed, names, of } = useFields({
    leftOut: own?.leftOut ?? false,
    'head.low': text(own?.head?.low),
    'head.high': text(own?.head?.high),
    fixedYard: yardOf(own?.fixedYard ?? null) as string,
    km: text(own?.km),
    musterHours: text(own?.musterHours),
    waterDays: text(own?.waterDays),
    'feedKg.low': text(own?.feedKg?.low),
    'feedKg.high': text(own?.feedKg?.high),
    note: own?.note ?? '',
  })
  const submit = async () => {
    const others = answer.figures.points.filter((one) => one.pointId !== pointId)
    const said = {
      pointId,
      leftOut: typed.leftOut,
      head: range(typed['head.low'], typed['head.high']),
      fixedYard: typed.fixedYard === 'there' ? true : typed.fixedYard === 'none' ? false : null,
      km: number(typed.km),
      musterHours: number(typed.musterHours),
      waterDays: number(typed.waterDays),
      feedKg: range(typed['feedKg.low'], typed['feedKg.high']),
      note: typed.note.trim() || null,
    }
    await saveFigures(answer, { ...answer.figures, points: [...others, said] })
    done()
  }
  const there = answer.points.find((point) => point.pointId === pointId)?.hasYard ?? false
  const yards = [
    { value: 'as in Set-up', words: words.yardAsSetUp(there) },
    { value: 'there', words: words.yardThere },
    { value: 'none', words: words.yardNone },
  ]
  return (
    <Form
      form={form}
      label={musterWords.changeOne(nameOf(answer, pointId))}
      button={musterWords.save}
      fields={names}
      submit={submit}
      cancel={cancel}
    >
      <p class="hint">{words.hint}</p>
      <Tick label={words.leftOut} {...of('leftOut')} />
      <div class="field-pair">
        <Field label={words.headLow} {...of('head.low')} kind="number" />
        <Field label={words.headHigh} {...of('head.high')} kind="number" />
      </div>
      <div class="field-pair">
        <Choice label={words.yard} {...of('fixedYard')} choices={yards} />
        <Field label={words.waterDays} {...of('waterDays')} kind="number" />
      </div>
      <div class="field-pair">
        <Field label={words.km} {...of('km')} kind="number" />
        <Field label={words.musterHours} {...of('musterHours')} kind="number" />
      </div>
      <div class="field-pair">
        <Field label={words.feedLow} {...of('feedKg.low')} kind="number" />
        <Field label={words.feedHigh} {...of('feedKg.high')} kind="number" />
      </div>
      <Field label={words.note} {...of('note')} />
    </Form>
  )
}

function yardOf(fixed: boolean | null): Yard {
  if (fixed === null) return 'as in Set-up'
  return fixed ? 'there' : 'none'
}

const number = (typed: string) => (typed.trim() === '' ? null : typedNumber(typed))

/** One end alone stands for both. */
function range(low: string, high: string): { low: unknown; high: unknown } | null {
  const [from, to] = [number(low), number(high)]
  return from === null && to === null ? null : { low: from ?? to, high: to ?? from }
}
