/** A button that asks once more before it acts. */
import { useState } from 'preact/hooks'

interface AskTwiceProps {
  readonly words: string
  readonly sure: string
  readonly leave: string
  readonly act: () => void
}

export function AskTwice({ words, sure, leave, act }: AskTwiceProps) {
  const [asking, setAsking] = useState(false)
  if (!asking)
    return (
      <button type="button" class="button" onClick={() => setAsking(true)}>
        {words}
      </button>
    )
  return (
    <>
      <button
        type="button"
        class="button button-strong"
        onClick={() => {
          setAsking(false)
          act()
        }}
      >
        {sure}
      </button>
      <button type="button" class="button" onClick={() => setAsking(false)}>
        {leave}
      </button>
    </>
  )
}
