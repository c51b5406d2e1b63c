/** A field whose text is not shown while it is typed, nor filled in again. */
import { useId } from 'preact/hooks'
import { useWrong, Wrong } from './field.tsx'
import type { FieldProps } from './use-fields.ts'

interface SecretFieldProps extends FieldProps<string> {
  readonly label: string
  readonly hint?: string
}

export function SecretField({ label, name, value, change, hint }: SecretFieldProps) {
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
        type="password"
        autoComplete="new-password"
        {...(described === '' ? {} : { 'aria-describedby': described })}
        aria-invalid={wrong !== null}
        onInput={(event) => change(event.currentTarget.value)}
      />
      {hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <Wrong id={id} wrong={wrong} />
    </div>
  )
}
