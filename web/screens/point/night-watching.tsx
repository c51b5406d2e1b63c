/** How one night was watched: what no camera saw and why, and a person's word in its place. */
import { useState } from 'preact/hooks'
import type { WatchingAnswer } from '../../../services/http/camera-shapes.ts'
import { Failed, tell } from '../../api/ask.ts'
import { watchingQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Fold } from '../../parts/fold.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { effortWordWords, notWatchedWords, watchingWords as words } from '../../text/cameras.ts'

interface NightWatchingProps {
  readonly id: string
  readonly night: string
  /** What is shown elsewhere of the night is another then. */
  readonly changed: () => void
}

export function NightWatching({ id, night, changed }: NightWatchingProps) {
  const [open, setOpen] = useState(false)
  return (
    <Fold head={words.fold} open={open} turned={setOpen}>
      <Inside id={id} night={night} changed={changed} key={night} />
    </Fold>
  )
}

function Inside({ id, night, changed }: NightWatchingProps) {
  const { answer, failure, reload } = useAnswer(watchingQuestion(id, night))
  const [watching] = answer?.nights ?? []
  if (watching === undefined) {
    return failure === null ? (
      <Skeleton shape="line" count={2} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  }
  const reasons = notWatchedWords(watching.notWatched)
  const done = () => {
    reload()
    changed()
  }
  return (
    <>
      {reasons.length === 0 ? (
        <p>{words.whole}</p>
      ) : (
        <ul class="plain-list">
          {reasons.map((reason) => (
            <li key={reason}>{reason}</li>
          ))}
        </ul>
      )}
      {watching.words.length > 0 && (
        <ul class="plain-list">
          {watching.words.map((word) => (
            <li key={word.at}>{effortWordWords(word)}</li>
          ))}
        </ul>
      )}
      <ByHand id={id} watching={watching} done={done} key={watching.words[0]?.at ?? ''} />
    </>
  )
}

interface ByHandProps {
  readonly id: string
  readonly watching: WatchingAnswer['nights'][number]
  readonly done: () => void
}

function ByHand({ id, watching, done }: ByHandProps) {
  const form = useForm()
  const undo = useForm()
  const { typed, names, of } = useFields({
    share: watching.watched === null ? '' : String(Math.round(100 * watching.watched)),
    note: '',
  })
  const tellShare = async (share: number | null) => {
    await tell('POST', `/api/points/${id}/watching`, {
      night: watching.night,
      share,
      ...(typed.note.trim() === '' || share === null ? {} : { note: typed.note.trim() }),
    })
    done()
  }
  const submit = async () => {
    const share = typedNumber(typed.share)
    if (typeof share !== 'number' || share < 0 || share > 100)
      throw new Failed({ ...words.wrongShare, field: 'share', status: null })
    await tellShare(share / 100)
  }
  return (
    <>
      <Form form={form} label={words.fold} button={words.save} fields={names} submit={submit}>
        <div class="field-pair">
          <Field label={words.correct} {...of('share')} kind="number" hint={words.correctHint} />
          <Field label={words.note} {...of('note')} />
        </div>
      </Form>
      {watching.byHand && (
        <button
          type="button"
          class="button"
          onClick={() => undo.submit(() => tellShare(null))}
          disabled={undo.sending}
        >
          {words.undo}
        </button>
      )}
      {undo.failure !== null && <FailedNotice failure={undo.failure} />}
    </>
  )
}
