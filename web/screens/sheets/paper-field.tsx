/** A field that is typed on screen and printed as text; left empty it is printed as lines to fill in by hand. */
import { useId } from 'preact/hooks'

interface PaperFieldProps {
  readonly label: string
  readonly hint?: string
  readonly value: string
  readonly change: (value: string) => void
  /** Lines to fill in. */
  readonly lines?: number
}

export function PaperField({ label, hint, value, change, lines = 1 }: PaperFieldProps) {
  const id = useId()
  return (
    <div class="paper-field">
      <label for={id}>{label}</label>
      <textarea
        id={id}
        class="sheet-typed"
        rows={Math.max(lines, Math.ceil(value.length / 60))}
        value={value}
        {...(hint === undefined ? {} : { 'aria-describedby': `${id}-hint` })}
        onInput={(event) => change(event.currentTarget.value)}
      />
      {hint !== undefined && (
        <p class="hint sheet-tools" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <div class="sheet-printed" aria-hidden="true">
        {value.trim() === ''
          ? Array.from({ length: lines }, (_, line) => <div class="line-to-fill" key={line} />)
          : value}
      </div>
    </div>
  )
}
