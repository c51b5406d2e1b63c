/** What is typed in the fields of a form, by the service's names for them. */
import { useState } from 'preact/hooks'

export interface FieldProps<Value> {
  readonly name: string
  readonly value: Value
  readonly change: (value: Value) => void
}

/** Fields that start with these values; `of` gives a field what it shows and changes. */
export function useFields<Values extends Readonly<Record<string, string | boolean>>>(start: Values) {
  const [typed, setTyped] = useState(start)
  const of = <Name extends keyof Values & string>(name: Name): FieldProps<Values[Name]> => ({
    name,
    value: typed[name],
    change: (value) => setTyped((before) => ({ ...before, [name]: value })),
  })
  return { typed, names: Object.keys(typed), of }
}
