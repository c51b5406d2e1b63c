/** A form's frame: its button, what it says once saved, and a refusal that belongs to no field shown. */
import type { ComponentChildren } from 'preact'
import { useEffect, useRef } from 'preact/hooks'
import { setupWords } from '../text/setup.ts'
import { FormFailure, namesField } from './field.tsx'
import { FailedNotice, Spoken } from './notice.tsx'
import type { FormState } from './use-form.ts'

interface FormProps {
  readonly form: FormState
  readonly label: string
  readonly button: string
  /** Names of the fields inside: a refusal of any other field is shown above the button. */
  readonly fields: readonly string[]
  readonly submit: () => Promise<void>
  readonly cancel?: () => void
  readonly children: ComponentChildren
}

export function Form({ form, label, button, fields, submit, cancel, children }: FormProps) {
  const { failure } = form
  const frame = useRef<HTMLFormElement>(null)
  const opened = useRef(cancel !== undefined)
  useEffect(() => {
    // A form that took the place of a button takes its keyboard too; the form, so that no phone's keys spring up.
    if (opened.current) frame.current?.focus()
  }, [])
  const elsewhere = failure !== null && !fields.some((name) => namesField(failure, name))
  return (
    <form
      class="form"
      aria-label={label}
      tabIndex={-1}
      ref={frame}
      noValidate
      onSubmit={(event) => {
        event.preventDefault()
        form.submit(submit)
      }}
    >
      <FormFailure.Provider value={failure}>{children}</FormFailure.Provider>
      {failure !== null && elsewhere && <FailedNotice failure={failure} />}
      <div class="button-row">
        <button type="submit" class="button button-strong" disabled={form.sending}>
          {button}
        </button>
        {cancel && (
          <button type="button" class="button" onClick={cancel}>
            {setupWords.cancel}
          </button>
        )}
      </div>
      <Spoken words={form.saved ? setupWords.saved : ''} />
    </form>
  )
}
