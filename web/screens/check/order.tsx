/** Which cards are shown, and in which order: folded, because nobody needs it on an ordinary evening. */
import { useState } from 'preact/hooks'
import { withQuery } from '../../api/questions.ts'
import { Fold } from '../../parts/fold.tsx'
import { checkWordsOnScreen as words } from '../../text/check.ts'

/** What matters first; what would teach most first; the night's other visits. */
export const SHOWN = ['matters', 'teaches', 'other'] as const
export type Shown = (typeof SHOWN)[number]

export function shownBy(query: string | undefined): Shown {
  return SHOWN.find((one) => one === query) ?? 'matters'
}

interface OrderChoiceProps {
  readonly shown: Shown
  readonly night: string | null
}

export function OrderChoice({ shown, night }: OrderChoiceProps) {
  const [open, setOpen] = useState(false)
  return (
    <Fold head={words.showing(words.shown[shown].name)} open={open} turned={setOpen}>
      <ul class="order-choice">
        {SHOWN.map((one) => (
          <li key={one}>
            <a
              class="button"
              href={withQuery('/check', { night, show: one === 'matters' ? null : one })}
              aria-current={one === shown ? 'true' : undefined}
            >
              {words.shown[one].name}
            </a>
            <p class="small">{words.shown[one].what}</p>
          </li>
        ))}
      </ul>
    </Fold>
  )
}
