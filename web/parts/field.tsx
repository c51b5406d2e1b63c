/** One input with its label, its hint, and the service's refusal where it belongs. */
import { type ComponentChildren, createContext } from 'preact'
import { useContext, useId } from 'preact/hooks'
import type { Failure } from '../api/ask.ts'
import { fieldWords } from '../text/failures.ts'
import type { FieldProps } from './use-fields.ts'

/** The refusal of the form that the fields stand in, or null: each field shows the one that names it. */
export const FormFailure = createContext<Failure | null>(null)

/** What the browser knows them as. */
const INPUTS = {
  text: 'text',
  degrees: 'text',
  number: 'text',
  date: 'date',
  clock: 'time',
  moment: 'datetime-local',
} as const

interface TextFieldProps extends FieldProps<string> {
  readonly label: string
  readonly hint?: string
  readonly kind?: keyof typeof INPUTS
  readonly required?: boolean
  readonly choices?: readonly string[]
}

export function Field(props: TextFieldProps) {
  const { label, name, value, change, hint, kind = 'text', required = false, choices } = props
  const id = useId()
  const wrong = useWrong(name)
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
        type={INPUTS[kind]}
        {...(kind === 'clock' ? { step: 1 } : {})}
        inputMode={kind === 'degrees' || kind === 'number' ? 'decimal' : 'text'}
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
      <Wrong id={id} wrong={wrong} />
    </div>
  )
}

/** The form's refusal, where it is about this field. */
export function useWrong(name: string): Failure | null {
  const failure = useContext(FormFailure)
  return failure !== null && namesField(failure, name) ? failure : null
}

export function Wrong({ id, wrong }: { readonly id: string; readonly wrong: Failure | null }) {
  if (wrong === null) return null
  return (
    <p class="wrong" id={`${id}-wrong`} role="alert">
      {fieldWords(wrong)}
    </p>
  )
}

/** True when a refusal is about this field: `lat` matches `lat` and `homestead.lat`. */
export function namesField(failure: Failure, name: string): boolean {
  return failure.field !== null && (failure.field === name || failure.field.endsWith(`.${name}`))
}

interface ChoiceProps<Value extends string> extends FieldProps<Value> {
  readonly label: string
  readonly choices: readonly { readonly value: Value; readonly words: string }[]
}

export function Choice<Value extends string>({ label, name, value, choices, change }: ChoiceProps<Value>) {
  const id = useId()
  const wrong = useWrong(name)
  return (
    <div class={`field ${wrong === null ? '' : 'field-wrong'}`}>
      <label for={id}>{label}</label>
      <select
        id={id}
        name={name}
        value={value}
        aria-invalid={wrong !== null}
        {...(wrong === null ? {} : { 'aria-describedby': `${id}-wrong` })}
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
      <Wrong id={id} wrong={wrong} />
    </div>
  )
}

interface TickProps extends FieldProps<boolean> {
  readonly label: ComponentChildren
}

export function Tick({ label, name, value, change }: TickProps) {
  const id = useId()
  const wrong = useWrong(name)
  return (
    <div>
      <label class="tick">
        <input
          type="checkbox"
          name={name}
          checked={value}
          {...(wrong === null ? {} : { 'aria-describedby': `${id}-wrong` })}
          onChange={(event) => change(event.currentTarget.checked)}
        />
        <span>{label}</span>
      </label>
      <Wrong id={id} wrong={wrong} />
    </div>
  )
}

/** What was typed as a number, or as it was typed where it is none: the service then says so, at the field. */
export function typedNumber(typed: string): number | string {
  const plain = typed.trim().replace(',', '.').replace('−', '-')
  return plain !== '' && Number.isFinite(Number(plain)) ? Number(plain) : typed
}
