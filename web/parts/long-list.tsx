/** A list that shows its beginning until all of it is asked for: a station of two hundred points has other parts too. */
import { type ComponentChildren, toChildArray } from 'preact'
import { useState } from 'preact/hooks'

/** Up to this many are simply shown; of more, the first few. */
const ALL_SHOWN_MOST = 20
const FIRST_SHOWN = 12

interface LongListProps {
  readonly showAll: (count: number) => string
  readonly children: ComponentChildren
}

export function LongList({ showAll, children }: LongListProps) {
  const [whole, setWhole] = useState(false)
  const items = toChildArray(children)
  if (items.length === 0) return null
  const cut = !whole && items.length > ALL_SHOWN_MOST
  return (
    <>
      <ul class="setup-list">{cut ? items.slice(0, FIRST_SHOWN) : items}</ul>
      {cut && (
        <button type="button" class="button more" onClick={() => setWhole(true)}>
          {showAll(items.length)}
        </button>
      )}
    </>
  )
}
