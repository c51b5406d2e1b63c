/** A tick that is saved as soon as it is set: it shows what was said last while that is on its way, then what stands. */
import { useRef, useState } from 'preact/hooks'
import { Tick } from '../../parts/field.tsx'
import type { FormState } from '../../parts/use-form.ts'

interface SavedTickProps {
  readonly form: FormState
  readonly label: string
  readonly name: string
  /** As it stands at the service. */
  readonly value: boolean
  /** Over once `value` is what stands after it. */
  readonly save: (value: boolean) => Promise<void>
}

export function SavedTick({ form, label, name, value, save }: SavedTickProps) {
  const [said, setSaid] = useState<boolean | null>(null)
  const times = useRef(0)
  const change = async (now: boolean) => {
    times.current += 1
    const time = times.current
    setSaid(now)
    await form.submit(() => save(now))
    // An answer to an earlier word must not show over a later one.
    if (time === times.current) setSaid(null)
  }
  return <Tick label={label} name={name} value={said ?? value} change={(now) => void change(now)} />
}
