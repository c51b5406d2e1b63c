/** A step that cannot be taken back: a button, then what it does, then yes or no. */
import type { ComponentChildren } from 'preact'
import { useEffect, useRef, useState } from 'preact/hooks'
import { setupWords } from '../text/setup.ts'
import { FailedNotice } from './notice.tsx'
import { Opener } from './opener.tsx'
import type { FormState } from './use-form.ts'

interface SureProps {
  readonly form: FormState
  readonly label?: string
  readonly warns: string
  readonly yes: string
  readonly act: () => Promise<void>
  /** Words of the first button. */
  readonly children: ComponentChildren
}

export function Sure({ form, label, warns, yes, act, children }: SureProps) {
  const [asked, setAsked] = useState<boolean | null>(null)
  if (asked !== true) {
    return (
      <Opener {...(label === undefined ? {} : { label })} back={asked === false} press={() => setAsked(true)}>
        {children}
      </Opener>
    )
  }
  const go = () =>
    form.submit(async () => {
      await act()
      setAsked(null)
    })
  return (
    <Question warns={warns}>
      <div class="button-row">
        <button type="button" class="button button-strong" onClick={go} disabled={form.sending}>
          {yes}
        </button>
        <button type="button" class="button" onClick={() => setAsked(false)}>
          {setupWords.cancel}
        </button>
      </div>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </Question>
  )
}

function Question({ warns, children }: { readonly warns: string; readonly children: ComponentChildren }) {
  const box = useRef<HTMLDivElement>(null)
  useEffect(() => box.current?.focus(), [])
  return (
    <div class="sure" role="alert" tabIndex={-1} ref={box}>
      <p>{warns}</p>
      {children}
    </div>
  )
}
