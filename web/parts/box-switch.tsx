/** Whether boxes are drawn: one switch for the whole view, remembered on this phone. */

import { shellWords } from '../text/shell.ts'
import { Icon } from './icon.tsx'
import { remember, remembered } from './memory.ts'
import { useOutside } from './outside.ts'

const KEY = 'boxes'
const listeners = new Set<() => void>()

function setShown(shown: boolean): void {
  remember(KEY, shown ? 'shown' : 'hidden')
  for (const listener of listeners) listener()
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

/** True when boxes are to be drawn; they are unless switched off. */
export function useBoxesShown(): boolean {
  return useOutside(subscribe, () => remembered(KEY) !== 'hidden')
}

export function BoxSwitch() {
  const shown = useBoxesShown()
  return (
    <button
      type="button"
      class="button box-switch"
      role="switch"
      aria-checked={shown}
      aria-label={shellWords.boxes}
      onClick={() => setShown(!shown)}
    >
      <Icon name="box" />
      {shellWords.boxes} <span class="switch-word">{shown ? shellWords.on : shellWords.off}</span>
    </button>
  )
}
