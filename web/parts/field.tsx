/** One input with its label, its hint, and the service's refusal where it belongs. */
import type { ComponentChildren } from 'preact'
import { useId } from 'preact/hooks'
import type { Failure } from '../api/ask.ts'

interface FieldProps {
  readonly label: string
  /** The service's name for it: a refusal that names it stands here. */
  readonly name: string
  readonly value: string
  readonly change: (value: string) => void
  readonly failure: Failure | null
  readonly hint?: string
  readonly kind?: 'text' | 'degrees' | 'number'
  readonly required?: boolean
  readonly choices?: readonly string[]
}

export function Field(props: FieldProps) {
  const { label, name, value, change, failure, hint, kind = 'text', required = false, choices } = props
  const id = useId()
  const wrong = failure !== null && namesField(failure, name) ? failure : null
  const described = [hint === undefined ? '' : `${id}-hint`, wrong === null ? '' : `${id}-wrong`]
    .join(' ')
    .trim()
  return (
    <div class={`field ${wrong === null ? '' : 'field-wrong'}`}>
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        value={value}
        required={required}
        type="text"
        inputMode={kind === 'text' ? 'text' : 'decimal'}
        autoComplete="off"
        {...(choices === undefined ? {} : { list: `${id}-choices` })}
        {...(described === '' ? {} : { 'aria-describedby': described })}
        aria-invalid={wrong !== null}
        onInput={(event) => change(event.currentTarget.value)}
      />
      {choices !== undefined && (
        <datalist id={`${id}-choices`}>
          {choices.map((choice) => (
            <option value={choice} key={choice} />
          ))}
        </datalist>
      )}
      {hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      {wrong !== null && (
        <p class="wrong" id={`${id}-wrong`} role="alert">
          {wrong.what} {wrong.remedy}
        </p>
      )}
    </div>
  )
}

/** True when a refusal is about this field: `lat` matches `lat` and `homestead.lat`. */
export function namesField(failure: Failure, name: string): boolean {
  return failure.field !== null && (failure.field === name || failure.field.endsWith(`.${name}`))
}

interface ChoiceProps<Value extends string> {
  readonly label: string
  readonly name: string
  readonly value: Value
  readonly choices: readonly { readonly value: Value; readonly words: string }[]
  readonly change: (value: Value) => void
}

export function Choice<Value extends string>({ label, name, value, choices, change }: ChoiceProps<Value>) {
  const id = useId()
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <select
        id={id}
        name={name}
        value={value}
        onChange={(event) => {
          const chosen = choices.find((choice) => choice.value === event.currentTarget.value)
          if (chosen !== undefined) change(chosen.value)
        }}
      >
        {choices.map((choice) => (
          <option value={choice.value} key={choice.value}>
            {choice.words}
          </option>
        ))}
      </select>
    </div>
  )
}

interface TickProps {
  readonly label: ComponentChildren
  readonly name: string
  readonly on: boolean
  readonly change: (on: boolean) => void
}

export function Tick({ label, name, on, change }: TickProps) {
  return (
    <label class="tick">
      <input
        type="checkbox"
        name={name}
        checked={on}
        onChange={(event) => change(event.currentTarget.checked)}
      />
      <span>{label}</span>
    </label>
  )
}

/** What was typed as a number, or as it was typed where it is none: the service then says so, at the field. */
export function typedNumber(typed: string): number | string {
  const plain = typed.trim().replace(',', '.').replace('−', '-')
  return plain !== '' && Number.isFinite(Number(plain)) ? Number(plain) : typed
}
