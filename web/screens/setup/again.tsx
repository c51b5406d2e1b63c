/** Old photos looked at again by newer models, and counting again after a change: how far, paused, gone on with. */
import type { Point, Recount, Rerun } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { rerunsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { Sure } from '../../parts/sure.tsx'
import { useForm } from '../../parts/use-form.ts'
import { recountWords, rerunWords, againWords as words } from '../../text/again.ts'
import { AgainForm } from './again-form.tsx'

const POLL_MS = 5_000

export function AgainSetup({ points }: { readonly points: readonly Point[] }) {
  const { answer, failure, reload } = useAnswer(rerunsQuestion, POLL_MS)
  if (answer === null) {
    return failure === null ? (
      <Skeleton shape="line" count={3} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  }
  const [latest] = answer.reruns
  const underWay = latest !== undefined && (latest.state === 'running' || latest.state === 'paused')
  return (
    <>
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer.recount !== null && <RecountUnderWay recount={answer.recount} changed={reload} />}
      <p class="hint">{words.hint}</p>
      {latest !== undefined && <OneRerun rerun={latest} changed={reload} />}
      {/* Asked anew once one has ended: what is left is another number then. */}
      {!underWay && <AgainForm points={points} started={reload} key={`${latest?.id}`} />}
    </>
  )
}

interface LineProps {
  readonly id: string
  readonly line: string
  readonly done: number
  readonly total: number
}

function Bar({ id, line, done, total }: LineProps) {
  return (
    <div class="progress again-bar">
      <p id={id}>{line}</p>
      <progress aria-labelledby={id} value={done} max={Math.max(1, total)} />
    </div>
  )
}

function RecountUnderWay({ recount, changed }: { readonly recount: Recount; readonly changed: () => void }) {
  const form = useForm()
  const paused = recount.state === 'paused'
  const step = () =>
    form.submit(async () => {
      await tell('POST', `/api/recount/${paused ? 'resume' : 'pause'}`, {})
      changed()
    })
  return (
    <div class="again-part">
      <h4>{words.recount}</h4>
      <Bar id="recount-words" line={recountWords(recount)} done={recount.done} total={recount.total} />
      <p class="hint">{words.recountHint}</p>
      {recount.lastError !== null && <p class="wrong">{recount.lastError}</p>}
      <button type="button" class="button" onClick={step} disabled={form.sending}>
        {paused ? words.goOn : words.pause}
      </button>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}

function OneRerun({ rerun, changed }: { readonly rerun: Rerun; readonly changed: () => void }) {
  const { done, failed, total, state } = rerun
  const line = rerunWords(rerun)
  return (
    <div class="again-part">
      {state === 'running' || state === 'paused' ? (
        <>
          <Bar id="again-words" line={line} done={done + failed} total={total} />
          <RerunSteps rerun={rerun} changed={changed} />
        </>
      ) : (
        <p>
          {line} {state === 'stopped' && ownWord(rerun)}
        </p>
      )}
      {rerun.failures.length > 0 && (
        <>
          <p>{words.failures}</p>
          <ul class="again-failures">
            {rerun.failures.map(({ stillId, reason }) => (
              <li key={stillId}>
                <a class="again-link" href={`/photos/${stillId}`}>
                  {words.photo(stillId)}
                </a>
                {reason}
              </li>
            ))}
          </ul>
        </>
      )}
    </div>
  )
}

/** Why it ended, where that is not what was wrong with a photo. */
function ownWord({ lastError, failures }: Rerun): string | null {
  return failures.some(({ reason }) => reason === lastError) ? null : lastError
}

function RerunSteps({ rerun, changed }: { readonly rerun: Rerun; readonly changed: () => void }) {
  const step = useForm()
  const stop = useForm()
  const tellStep = async (name: 'pause' | 'resume' | 'stop') => {
    await tell('POST', `/api/reruns/${rerun.id}/${name}`, {})
    changed()
  }
  const paused = rerun.state === 'paused'
  return (
    <>
      <div class="button-row">
        <button
          type="button"
          class="button button-strong"
          onClick={() => step.submit(() => tellStep(paused ? 'resume' : 'pause'))}
          disabled={step.sending}
        >
          {paused ? words.goOn : words.pause}
        </button>
        <Sure form={stop} warns={words.stopSure} yes={words.stopYes} act={() => tellStep('stop')}>
          {words.stop}
        </Sure>
      </div>
      {step.failure !== null && <FailedNotice failure={step.failure} />}
    </>
  )
}
