/** Revoking a key, asked for twice because machines with it stop at once. */
import { useState } from 'preact/hooks'
import type { WorkerKeyAnswer } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { FailedNotice } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { machineWords as words } from '../../text/machines.ts'
import { setupWords } from '../../text/setup.ts'

interface RevokeKeyProps {
  readonly workerKey: WorkerKeyAnswer
  readonly revoked: () => void
}

export function RevokeKey({ workerKey, revoked }: RevokeKeyProps) {
  const form = useForm()
  const [asked, setAsked] = useState(false)
  const revoke = () =>
    form.submit(async () => {
      await tell('POST', `/api/workers/keys/${workerKey.id}/revoke`, {})
      revoked()
    })
  if (!asked) {
    return (
      <button
        type="button"
        class="button"
        onClick={() => setAsked(true)}
        aria-label={`${words.revoke}: ${workerKey.name}`}
      >
        {words.revoke}
      </button>
    )
  }
  return (
    <div class="sure" role="alert">
      <p>{words.revokeWarns}</p>
      <div class="button-row">
        <button type="button" class="button button-strong" onClick={revoke} disabled={form.sending}>
          {words.revokeYes}
        </button>
        <button type="button" class="button" onClick={() => setAsked(false)}>
          {setupWords.cancel}
        </button>
      </div>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}
