/** What keeps animals safe where a trap is set or visited. */
import type { ComponentChildren } from 'preact'
import { notOwnerless, trapSafety } from '../text/safety.ts'
import { Icon } from './icon.tsx'

interface TrapSafetyProps {
  /** Nothing is held or about to be. */
  readonly calm?: boolean
  readonly children?: ComponentChildren
}

export function TrapSafety({ calm = false, children }: TrapSafetyProps) {
  return (
    <div class={`safety ${calm ? 'safety-calm' : ''}`}>
      <Icon name="alarm" />
      <div>
        <p>{trapSafety.visit}</p>
        <p>{trapSafety.open}</p>
        <p>{trapSafety.release}</p>
        <p>{notOwnerless}</p>
        {children}
      </div>
    </div>
  )
}
