/** Folded until opened: a line that says what is inside, and the inside only once somebody wants it. */
import type { ComponentChildren } from 'preact'
import { useRef } from 'preact/hooks'
import { Icon } from './icon.tsx'

interface FoldProps {
  readonly head: ComponentChildren
  readonly open: boolean
  readonly turned: (open: boolean) => void
  readonly children: ComponentChildren
}

export function Fold({ head, open, turned, children }: FoldProps) {
  // Once opened it stays drawn: folding away must not lose what was typed, nor a key that is shown once.
  const wanted = useRef(open)
  wanted.current ||= open
  return (
    <details class="fold" open={open} onToggle={(event) => turned(event.currentTarget.open)}>
      <summary>
        <span class="fold-head">{head}</span>
        <Icon name="down" />
      </summary>
      {wanted.current && <div class="fold-inside">{children}</div>}
    </details>
  )
}
