/** A tick that is saved as soon as it is set; it shows what was said while that is on its way, and what stands if it fails. */
import { useEffect, useState } from 'preact/hooks'
import { Tick } from '../../parts/field.tsx'
import type { FormState } from '../../parts/use-form.ts'

interface SavedTickProps {
  readonly form: FormState
  readonly label: string
  readonly name: string
  /** As it stands at the service. */
  readonly value: boolean
  readonly save: (value: boolean) => Promise<void>
}

export function SavedTick({ form, label, name, value, save }: SavedTickProps) {
  const [said, setSaid] = useState(value)
  useEffect(() => setSaid(value), [value])
  const change = async (now: boolean) => {
    setSaid(now)
    if (!(await form.submit(() => save(now)))) setSaid(value)
  }
  return <Tick label={label} name={name} value={said} change={(now) => void change(now)} />
}
