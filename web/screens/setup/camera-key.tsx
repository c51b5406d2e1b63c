/** A camera's key, shown once, with the exact line that sends a photo. */
import type { CameraWithKey } from '../../../services/http/shapes.ts'
import { setupWords } from '../../text/setup.ts'
import { KeyShown } from './key-shown.tsx'

const words = setupWords.cameras

/** The line that sends one photo with this key to this service (RFC 9110 headers; curl's own options). */
export function sendLine(origin: string, key: string): string {
  return `curl -H 'X-Camera-Key: ${key}' -H 'Content-Type: image/jpeg' --data-binary @photo.jpg ${origin}/api/stills`
}

interface CameraKeyProps {
  readonly made: CameraWithKey
  readonly close: () => void
}

export function CameraKey({ made, close }: CameraKeyProps) {
  return (
    <KeyShown
      title={words.keyTitle(made.camera.name)}
      once={words.keyOnce}
      secret={made.key}
      lineHint={words.sendLine}
      line={sendLine(location.origin, made.key)}
      other={{ hint: words.linkLine, line: `${location.origin}/api/k/${made.key}/stills` }}
      close={close}
    />
  )
}
