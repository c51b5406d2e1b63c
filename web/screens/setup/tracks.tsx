/** How a round is driven: speed, time at a point, and the owner's kilometres between places. */
import { useState } from 'preact/hooks'
import type { DistancesAnswer } from '../../../services/http/program-shapes.ts'
import type { Point } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { distancesQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Field, typedNumber } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { trackWords as words } from '../../text/getting-there.ts'
import { DistanceForm, DistancesFile, GivenDistances } from './distances.tsx'

export function TrackSetup({ points }: { readonly points: readonly Point[] }) {
  const { answer, failure, reload } = useAnswer(distancesQuestion)
  // What the service said last, by a save of this page or by an answer.
  const [saved, setSaved] = useState<DistancesAnswer | null>(null)
  const told = saved ?? answer
  return (
    <>
      <p>{words.lead}</p>
      {told === null && failure === null && <Skeleton shape="line" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {told !== null && (
        <>
          <SpeedForm driving={told.driving} saved={setSaved} />
          <GivenDistances distances={told.distances} points={points} saved={setSaved} />
          {points.length > 0 && <DistanceForm points={points} saved={setSaved} />}
          <DistancesFile saved={setSaved} />
        </>
      )}
    </>
  )
}

interface SpeedFormProps {
  readonly driving: DistancesAnswer['driving']
  readonly saved: (told: DistancesAnswer) => void
}

function SpeedForm({ driving, saved }: SpeedFormProps) {
  const form = useForm()
  const { typed, names, of } = useFields({
    kmAnHour: String(driving.kmAnHour),
    minutesAtPoint: String(driving.minutesAtPoint),
  })
  const submit = async () => {
    saved(
      await tell<DistancesAnswer>('PUT', '/api/driving', {
        kmAnHour: typedNumber(typed.kmAnHour),
        minutesAtPoint: typedNumber(typed.minutesAtPoint),
      }),
    )
  }
  return (
    <Form form={form} label={words.title} button={words.saveSpeed} fields={names} submit={submit}>
      <div class="field-pair">
        <Field label={words.speed} {...of('kmAnHour')} kind="number" />
        <Field label={words.minutes} {...of('minutesAtPoint')} kind="number" />
      </div>
      {!driving.own && <p class="hint">{words.usual}</p>}
    </Form>
  )
}
