/** A camera's key, shown once, with the exact line that sends a photo. */
import { useEffect, useRef, useState } from 'preact/hooks'
import type { CameraWithKey } from '../../../services/http/shapes.ts'
import { Icon } from '../../parts/icon.tsx'
import { setupWords } from '../../text/setup.ts'

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
  const [said, setSaid] = useState('')
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    heading.current?.focus()
  }, [])
  const line = sendLine(location.origin, made.key)
  const copy = (text: string) =>
    navigator.clipboard.writeText(text).then(
      () => setSaid(words.copied),
      () => setSaid(words.copyFailed),
    )
  // Outside a secure address browsers have no clipboard for pages; the text can still be marked by hand.
  const canCopy = 'clipboard' in navigator
  return (
    <div class="camera-key">
      <h3 tabIndex={-1} ref={heading}>
        {words.keyTitle(made.camera.name)}
      </h3>
      <p>{words.keyOnce}</p>
      <pre class="key-text">{made.key}</pre>
      <p>{words.sendLine}</p>
      <pre class="send-line">{line}</pre>
      <div class="button-row">
        {canCopy && (
          <>
            <button type="button" class="button" onClick={() => copy(made.key)}>
              <Icon name="copy" />
              {words.copy}
            </button>
            <button type="button" class="button" onClick={() => copy(line)}>
              <Icon name="copy" />
              {words.copyLine}
            </button>
          </>
        )}
        <button type="button" class="button button-strong" onClick={close}>
          {words.done}
        </button>
      </div>
      <p role="status">{said}</p>
    </div>
  )
}
