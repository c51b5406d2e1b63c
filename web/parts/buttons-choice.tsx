/** One of a few, each a button for gloves; the one that holds is pressed. */
interface ButtonsChoiceProps<Value extends string> {
  readonly legend: string
  readonly choices: readonly { readonly value: Value; readonly words: string }[]
  readonly value: Value
  readonly change: (value: Value) => void
}

export function ButtonsChoice<Value extends string>({
  legend,
  choices,
  value,
  change,
}: ButtonsChoiceProps<Value>) {
  return (
    <fieldset class="buttons-choice">
      <legend>{legend}</legend>
      <div>
        {choices.map((choice) => (
          <button
            type="button"
            class="button"
            aria-pressed={choice.value === value}
            onClick={() => change(choice.value)}
            key={choice.value}
          >
            {choice.words}
          </button>
        ))}
      </div>
    </fieldset>
  )
}
