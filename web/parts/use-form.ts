/** A form on its way to the service: sending, refused at a field, or saved. */
import { useState } from 'preact/hooks'
import { type Failure, failureOf } from '../api/ask.ts'

export interface FormState {
  readonly sending: boolean
  readonly failure: Failure | null
  readonly saved: boolean
  /** Runs `act`; true when it went well. */
  readonly submit: (act: () => Promise<void>) => Promise<boolean>
  readonly fail: (failure: Failure) => void
}

export function useForm(): FormState {
  const [sending, setSending] = useState(false)
  const [failure, setFailure] = useState<Failure | null>(null)
  const [saved, setSaved] = useState(false)
  const submit = async (act: () => Promise<void>) => {
    setSending(true)
    setFailure(null)
    setSaved(false)
    try {
      await act()
      setSaved(true)
      return true
    } catch (thrown) {
      setFailure(failureOf(thrown))
      return false
    } finally {
      setSending(false)
    }
  }
  return { sending, failure, saved, submit, fail: setFailure }
}
