/** When the camera stood there, by its card: one tap writes it down. */
import { useState } from 'preact/hooks'
import type { Camera } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { cameraTimesQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice, Spoken } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { putUpButton, takenDownButton, cardWords as words } from '../../text/card.ts'
import { type ProposedTimes, putUpProposed, takenDownProposed } from './proposed-times.ts'
import type { CardProgress } from './send-card.ts'

interface CardTimesProps {
  readonly camera: Camera
  readonly span: NonNullable<CardProgress['span']>
}

export function CardTimes({ camera, span }: CardTimesProps) {
  const { answer, failure, reload } = useAnswer(cameraTimesQuestion(camera.id))
  const form = useForm()
  const [taken, setTaken] = useState(false)
  if (answer === null) return failure === null ? null : <FailedNotice failure={failure} again={reload} />
  const putUp = putUpProposed(answer.times, span)
  const down = takenDownProposed(answer.times, span)
  const take = ({ times }: ProposedTimes) =>
    form.submit(async () => {
      await tell('PUT', `/api/cameras/${camera.id}/times`, { times, note: 'from its card' })
      setTaken(true)
      reload()
    })
  if (putUp === null && down === null) return taken ? <Spoken words={words.timesTaken} /> : null
  return (
    <div class="card-times">
      <h2>{words.times}</h2>
      <p class="small">{words.timesHint}</p>
      <div class="button-row">
        {putUp !== null && (
          <button
            type="button"
            class="button button-strong"
            disabled={form.sending}
            onClick={() => take(putUp)}
          >
            {putUpButton(putUp.from, putUp.pointName)}
          </button>
        )}
        {down?.to != null && (
          <button type="button" class="button" disabled={form.sending} onClick={() => take(down)}>
            {takenDownButton(down.from, down.to, down.pointName)}
          </button>
        )}
      </div>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
      <Spoken words={taken ? words.timesTaken : ''} />
    </div>
  )
}
