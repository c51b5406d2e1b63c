/** Which old photos to look at again, and how many that is, before anything is begun. */
import type { Point, RerunCount } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { rerunCountQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Choice, Field, Tick } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton, Spoken } from '../../parts/notice.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { chosenWords, olderWords, unreadableWords, againWords as words } from '../../text/again.ts'
import { setupWords } from '../../text/setup.ts'

const ALL = 'all'

interface AgainFormProps {
  readonly points: readonly Point[]
  readonly started: () => void
}

export function AgainForm({ points, started }: AgainFormProps) {
  const older = useAnswer(rerunCountQuestion({}))
  const none = older.answer?.photos === 0
  const unreadable = useAnswer(none ? rerunCountQuestion({ unreadableToo: 'yes' }) : null)
  const failed = older.failure === null ? unreadable : older
  if (failed.failure !== null) return <FailedNotice failure={failed.failure} again={failed.reload} />
  if (older.answer === null) return <Skeleton shape="line" count={2} />
  return (
    <>
      <p>{olderWords(older.answer)}</p>
      {!none && <RangeForm points={points} range={older.answer} started={started} />}
      {unreadable.answer !== null && unreadable.answer.photos > 0 && (
        <>
          <p>{unreadableWords(unreadable.answer)}</p>
          <RangeForm points={points} range={unreadable.answer} unreadableOnly started={started} />
        </>
      )}
    </>
  )
}

interface RangeFormProps extends AgainFormProps {
  /** What there is to look at: its first night and its last are filled in. */
  readonly range: RerunCount
  /** Where only unreadable photos are left, whether they are meant is no question. */
  readonly unreadableOnly?: boolean
}

function RangeForm({ points, range: whole, unreadableOnly = false, started }: RangeFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({
    from: whole.from ?? '',
    to: whole.to ?? '',
    point: ALL,
    unreadableToo: unreadableOnly,
  })
  const range = {
    ...(typed.from === '' ? {} : { from: typed.from }),
    ...(typed.to === '' ? {} : { to: typed.to }),
  }
  const chosen = useAnswer(
    rerunCountQuestion({
      ...range,
      pointIds: typed.point === ALL ? null : typed.point,
      unreadableToo: typed.unreadableToo ? 'yes' : null,
    }),
  )
  const submit = async () => {
    await tell('POST', '/api/reruns', {
      ...range,
      ...(typed.point === ALL ? {} : { pointIds: [Number(typed.point)] }),
      unreadableToo: typed.unreadableToo,
    })
    started()
  }
  return (
    <Form
      form={form}
      label={setupWords.parts.again}
      button={unreadableOnly ? words.startUnreadable : words.start}
      fields={names}
      submit={submit}
    >
      <div class="field-pair">
        <Field label={words.from} {...of('from')} kind="date" />
        <Field label={words.to} {...of('to')} kind="date" />
      </div>
      <Choice
        label={words.point}
        {...of('point')}
        choices={[
          { value: ALL, words: words.allPoints },
          ...points.map((point) => ({ value: String(point.id), words: point.name })),
        ]}
      />
      {!unreadableOnly && <Tick label={words.unreadable} {...of('unreadableToo')} />}
      {chosen.failure === null ? (
        <Spoken words={chosen.answer === null ? '' : chosenWords(chosen.answer)} />
      ) : (
        <FailedNotice failure={chosen.failure} again={chosen.reload} />
      )}
    </Form>
  )
}
