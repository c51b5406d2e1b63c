/** A table of numbers that may be wider than a phone: it scrolls by itself, by keyboard too. */
import type { ComponentChildren } from 'preact'

interface NumbersProps {
  readonly label: string
  readonly heads: readonly string[]
  /** Narrow columns: a small number in each. */
  readonly tight?: boolean
  readonly children: ComponentChildren
}

export function Numbers({ label, heads, tight = false, children }: NumbersProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls must be reached by keyboard
    <section class={`numbers ${tight ? 'numbers-tight' : ''}`} tabIndex={0} aria-label={label}>
      <table>
        <thead>
          <tr>
            {heads.map((head) => (
              <th scope="col" key={head}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{children}</tbody>
      </table>
    </section>
  )
}
