/** Revoking a key, asked for twice because machines with it stop at once. */
import type { WorkerKeyAnswer } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { Sure } from '../../parts/sure.tsx'
import { useForm } from '../../parts/use-form.ts'
import { machineWords as words } from '../../text/machines.ts'

interface RevokeKeyProps {
  readonly workerKey: WorkerKeyAnswer
  readonly revoked: () => void
}

export function RevokeKey({ workerKey, revoked }: RevokeKeyProps) {
  const form = useForm()
  const revoke = async () => {
    await tell('POST', `/api/workers/keys/${workerKey.id}/revoke`, {})
    revoked()
  }
  return (
    <Sure
      form={form}
      label={`${words.revoke}: ${workerKey.name}`}
      warns={words.revokeWarns}
      yes={words.revokeYes}
      act={revoke}
    >
      {words.revoke}
    </Sure>
  )
}
