/** How far the night is, and the way back; it stays at the top. */
import { Icon } from '../../parts/icon.tsx'
import { doneWords, checkWordsOnScreen as words } from '../../text/check.ts'
import { LinkLine } from './link-notice.tsx'

interface CheckBarProps {
  readonly done: number
  readonly of: number
  readonly undo: () => void
  readonly canUndo: boolean
}

export function CheckBar({ done, of, undo, canUndo }: CheckBarProps) {
  return (
    <div class="check-bar">
      <p>
        <strong>{doneWords(done, of)}</strong>
        <progress value={done} max={of} aria-label={doneWords(done, of)} />
        <LinkLine />
      </p>
      <button type="button" class="button" onClick={undo} disabled={!canUndo}>
        <Icon name="undo" />
        {words.undo} <kbd>U</kbd>
      </button>
    </div>
  )
}
