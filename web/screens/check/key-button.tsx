/** A card's buttons and the single keys that do the same. */
import { useEffect, useRef } from 'preact/hooks'
import { Icon, type IconName } from '../../parts/icon.tsx'
import { isTyping } from '../../parts/keys.ts'

export type Acts = Readonly<Record<string, (() => void) | undefined>>

/** While `active` each key in `acts` does its act; held down it does so once, unless it `repeats`. */
export function useKeys(active: boolean, acts: Acts, repeats = false): void {
  // A key pressed between two drawings must find what was drawn last.
  const latest = useRef(acts)
  latest.current = acts
  useEffect(() => {
    if (!active) return
    const press = (event: KeyboardEvent) => {
      if (isTyping(event) || (event.repeat && !repeats)) return
      // On most keyboards + is = with shift; either will do.
      const key =
        event.key === '=' ? '+' : event.key === '_' || event.key === '−' ? '-' : event.key.toLowerCase()
      const act = latest.current[key]
      if (act === undefined) return
      event.preventDefault()
      act()
    }
    addEventListener('keydown', press)
    return () => removeEventListener('keydown', press)
  }, [active, repeats])
}

interface KeyButtonProps {
  /** Absent: the button is there but has nothing to do now. */
  readonly act: (() => void) | undefined
  readonly letter: string
  readonly icon: IconName
  readonly words: string
  readonly strong?: boolean
  readonly expanded?: boolean
}

export function KeyButton({ act, letter, icon, words: label, strong = false, expanded }: KeyButtonProps) {
  return (
    <button
      type="button"
      class={`button key-button ${strong ? 'button-strong' : ''}`}
      disabled={act === undefined}
      onClick={act}
      {...(expanded === undefined ? {} : { 'aria-expanded': expanded })}
    >
      <Icon name={icon} />
      <span>{label}</span> <kbd>{letter}</kbd>
    </button>
  )
}
