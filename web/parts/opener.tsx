/** A button that gives way to a form or a question, and has the keyboard again once that is closed. */
import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'

interface OpenerProps {
  /** Said instead of the button's words where these alone do not say which one it is. */
  readonly label?: string
  readonly strong?: boolean
  /** What it opened has just been closed. */
  readonly back: boolean
  readonly press: () => void
  readonly children: ComponentChildren
}

export function Opener({ label, strong = false, back, press, children }: OpenerProps) {
  const button = useRef<HTMLButtonElement>(null)
  const cameBack = useRef(back)
  useEffect(() => {
    if (cameBack.current) button.current?.focus()
  }, [])
  return (
    <button
      type="button"
      class={`button ${strong ? 'button-strong' : ''}`}
      aria-label={label}
      ref={button}
      onClick={press}
    >
      {children}
    </button>
  )
}
