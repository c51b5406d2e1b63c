/** A new key for a camera, asked for twice because the old one stops at once. */
import { useState } from 'preact/hooks'
import type { Camera, CameraWithKey } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { FailedNotice } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.cameras

interface NewKeyProps {
  readonly camera: Camera
  readonly made: (made: CameraWithKey) => void
}

export function NewKey({ camera, made }: NewKeyProps) {
  const form = useForm()
  const [asked, setAsked] = useState(false)
  const make = () =>
    form.submit(async () => {
      made(await tell<CameraWithKey>('POST', `/api/cameras/${camera.id}/key`, {}))
      setAsked(false)
    })
  if (!asked) {
    return (
      <button
        type="button"
        class="button"
        onClick={() => setAsked(true)}
        aria-label={`${words.newKey}: ${camera.name}`}
      >
        {words.newKey}
      </button>
    )
  }
  return (
    <div class="sure" role="alert">
      <p>{words.newKeyWarns}</p>
      <div class="button-row">
        <button type="button" class="button button-strong" onClick={make} disabled={form.sending}>
          {words.newKeyYes}
        </button>
        <button type="button" class="button" onClick={() => setAsked(false)}>
          {setupWords.cancel}
        </button>
      </div>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}
