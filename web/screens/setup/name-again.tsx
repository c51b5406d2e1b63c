/** The offer to name the photos of the last weeks again by what was learnt. */
import { tell } from '../../api/ask.ts'
import { rerunCountQuestion, rerunsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { againOffer, ownAnimalWords as words } from '../../text/own-animals.ts'

const OFFERED_DAYS = 28
const DAY_MS = 86_400_000
const POLL_MS = 10_000

export function NameAgain() {
  const form = useForm()
  // A day more or less at the far end is of no account, so the browser's day will do.
  const from = new Date(Date.now() - OFFERED_DAYS * DAY_MS).toISOString().slice(0, 10)
  const reruns = useAnswer(rerunsQuestion, POLL_MS)
  const count = useAnswer(rerunCountQuestion({ from, namesOnly: 'yes' }), POLL_MS)
  const failed = reruns.failure ?? count.failure
  if (failed !== null) return <FailedNotice failure={failed} again={reruns.reload} />
  if (reruns.answer === null || count.answer === null) return null
  const [latest] = reruns.answer.reruns
  if (latest?.state === 'running' || latest?.state === 'paused') {
    return (
      <p>
        {words.againUnderWay} <a href="/setup#again">{words.againHow}</a>
      </p>
    )
  }
  const start = async () => {
    await tell('POST', '/api/reruns', { from, namesOnly: true })
    reruns.reload()
  }
  return (
    <>
      <p>{againOffer(count.answer)}</p>
      {count.answer.photos > 0 && (
        <button type="button" class="button" disabled={form.sending} onClick={() => form.submit(start)}>
          {words.again}
        </button>
      )}
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </>
  )
}
