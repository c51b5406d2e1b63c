/** Whether boxes are drawn: one switch for the whole view, remembered on this phone. */

import { shellWords } from '../text/shell.ts'
import { Icon } from './icon.tsx'
import { remember, remembered } from './memory.ts'
import { useOutside } from './outside.ts'

const KEY = 'boxes'
const listeners = new Set<() => void>()

const areShown = () => remembered(KEY) !== 'hidden'

/** Draws boxes where they were not drawn, and the other way round. */
export function switchBoxes(): void {
  remember(KEY, areShown() ? 'hidden' : 'shown')
  for (const listener of listeners) listener()
}

function subscribe(listener: () => void): () => void {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

/** True when boxes are to be drawn; they are unless switched off. */
export function useBoxesShown(): boolean {
  return useOutside(subscribe, areShown)
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
      onClick={switchBoxes}
    >
      <Icon name="box" />
      {shellWords.boxes} <span class="switch-word">{shown ? shellWords.on : shellWords.off}</span>
    </button>
  )
}
