/** A new key for a camera, asked for twice because the old one stops at once. */
import type { Camera, CameraWithKey } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { Sure } from '../../parts/sure.tsx'
import { useForm } from '../../parts/use-form.ts'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.cameras

interface NewKeyProps {
  readonly camera: Camera
  readonly made: (made: CameraWithKey) => void
}

export function NewKey({ camera, made }: NewKeyProps) {
  const form = useForm()
  const make = async () => made(await tell<CameraWithKey>('POST', `/api/cameras/${camera.id}/key`, {}))
  return (
    <Sure
      form={form}
      label={`${words.newKey}: ${camera.name}`}
      warns={words.newKeyWarns}
      yes={words.newKeyYes}
      act={make}
    >
      {words.newKey}
    </Sure>
  )
}
