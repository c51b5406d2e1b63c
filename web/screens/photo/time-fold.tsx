/** How a photo came to its time, and saying when it was really taken: seen before it is done, and undone. */
import { useEffect, useState } from 'preact/hooks'
import type { Shift, StillTimeAnswer } from '../../../services/http/clock-shapes.ts'
import type { Still } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { stillTimeQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Fold } from '../../parts/fold.tsx'
import { Icon } from '../../parts/icon.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { placingWords, shiftWords, clockWords as words } from '../../text/clocks.ts'
import { TimeForm } from './time-form.tsx'

/** While photos are put in their places. */
const POLL_MS = 1_500

interface TimeFoldProps {
  readonly still: Still
  readonly reload: () => void
}

export function TimeFold({ still, reload }: TimeFoldProps) {
  const [open, setOpen] = useState(false)
  const [moving, setMoving] = useState(false)
  const time = useAnswer(stillTimeQuestion(still.id), moving ? POLL_MS : null)
  const isMoving = time.answer !== null && time.answer.placing !== null
  useEffect(() => {
    if (moving && !isMoving) reload()
    setMoving(isMoving)
  }, [isMoving, moving, reload])
  const changed = () => {
    setOpen(false)
    time.reload()
    reload()
  }
  return (
    <>
      {time.failure !== null && <FailedNotice failure={time.failure} again={time.reload} />}
      {time.answer?.placing != null && (
        <p class="fact fact-plain" role="status">
          {placingWords(time.answer.placing)}
          {time.answer.placing.lastError !== null && ` (${time.answer.placing.lastError})`}
        </p>
      )}
      {time.answer?.shifts.map((shift) => (
        <OneShift
          shift={shift}
          saidAt={time.answer?.saidAt ?? still.takenAt}
          changed={changed}
          key={shift.id}
        />
      ))}
      {time.answer !== null && time.answer.otherMeaning !== null && (
        <TwiceShown still={still} time={time.answer} changed={changed} />
      )}
      <Fold head={still.clockDoubt === null ? words.fold : words.foldDoubt} open={open} turned={setOpen}>
        <TimeForm still={still} done={changed} key={still.takenAt} />
      </Fold>
    </>
  )
}

function OneShift({
  shift,
  saidAt,
  changed,
}: {
  readonly shift: Shift
  readonly saidAt: string
  readonly changed: () => void
}) {
  const form = useForm()
  const undo = () =>
    form.submit(async () => {
      await tell('POST', `/api/shifts/${shift.id}/undo`, {})
      changed()
    })
  return (
    <div class="time-shift">
      <p>
        <Icon name="clock" /> {shiftWords(shift)}. {words.came(saidAt)}
      </p>
      <button type="button" class="button" onClick={undo} disabled={form.sending}>
        <Icon name="undo" />
        {words.undo}
      </button>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}

interface TwiceShownProps {
  readonly still: Still
  readonly time: StillTimeAnswer
  readonly changed: () => void
}

function TwiceShown({ still, time, changed }: TwiceShownProps) {
  const form = useForm()
  const other = time.otherMeaning ?? time.takenAt
  const take = () =>
    form.submit(async () => {
      await tell('POST', '/api/shifts', { stillId: still.id, takenAt: other, run: 'photo' })
      changed()
    })
  return (
    <div class="time-shift">
      <p>
        <Icon name="clock" /> {words.twice(Date.parse(other) > Date.parse(time.takenAt))}
      </p>
      <button type="button" class="button" onClick={take} disabled={form.sending}>
        {words.takeOther(Date.parse(other) > Date.parse(time.takenAt))}
      </button>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}
