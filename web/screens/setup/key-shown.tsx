/** A key that is shown once, with the exact line that uses it. */
import { useEffect, useRef, useState } from 'preact/hooks'
import { Icon } from '../../parts/icon.tsx'
import { setupWords } from '../../text/setup.ts'

const words = setupWords.cameras

interface KeyShownProps {
  readonly title: string
  readonly once: string
  readonly secret: string
  /** What the line is for. */
  readonly lineHint: string
  readonly line: string
  /** Another line that uses it, and what that is for. */
  readonly other?: { readonly hint: string; readonly line: string }
  readonly close: () => void
}

export function KeyShown({ title, once, secret, lineHint, line, other, close }: KeyShownProps) {
  const [said, setSaid] = useState('')
  const heading = useRef<HTMLHeadingElement>(null)
  useEffect(() => {
    heading.current?.focus()
  }, [])
  const copy = (text: string) =>
    navigator.clipboard.writeText(text).then(
      () => setSaid(words.copied),
      () => setSaid(words.copyFailed),
    )
  // Outside a secure address browsers have no clipboard for pages; the text can still be marked by hand.
  const canCopy = 'clipboard' in navigator
  return (
    <div class="camera-key">
      <h4 tabIndex={-1} ref={heading}>
        {title}
      </h4>
      <p>{once}</p>
      <pre class="key-text">{secret}</pre>
      <p>{lineHint}</p>
      <pre class="send-line">{line}</pre>
      {other !== undefined && (
        <>
          <p>{other.hint}</p>
          <pre class="send-line">{other.line}</pre>
        </>
      )}
      <div class="button-row">
        {canCopy && (
          <>
            <button type="button" class="button" onClick={() => copy(secret)}>
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
