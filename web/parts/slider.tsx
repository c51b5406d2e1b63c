/** A slider over a few fixed values, with the value in words beside its name. */
import { useId } from 'preact/hooks'

interface SliderProps {
  readonly label: string
  readonly values: readonly number[]
  readonly value: number
  readonly words: (value: number) => string
  readonly change: (value: number) => void
}

export function Slider({ label, values, value, words, change }: SliderProps) {
  const id = useId()
  return (
    <div class="slider">
      <label for={id}>
        {label} <strong>{words(value)}</strong>
      </label>
      <input
        id={id}
        type="range"
        min="0"
        max={values.length - 1}
        step="1"
        value={Math.max(0, values.indexOf(value))}
        aria-valuetext={words(value)}
        onInput={(event) => {
          const chosen = values[Number(event.currentTarget.value)]
          if (chosen !== undefined) change(chosen)
        }}
      />
    </div>
  )
}
