/** What a card is and what has been said of it, in a word each. */
import { MARKS } from '../../../services/words.ts'
import { Icon } from '../../parts/icon.tsx'
import { lookedAtBy, checkWordsOnScreen as words } from '../../text/check.ts'
import type { CardNow } from './standing.ts'

export function CardTags({ card }: { readonly card: CardNow }) {
  return (
    <p class="card-tags">
      <span class={`tag tag-${card.why}`}>{words.why[card.why]}</span>
      {MARKS.filter((mark) => card.marks.has(mark)).map((mark) => (
        <span class={`tag tag-mark ${mark === 'injured' || mark === 'person' ? 'tag-heed' : ''}`} key={mark}>
          {words.marks[mark]}
        </span>
      ))}
      {card.checked && (
        <span class="tag tag-done">
          <Icon name="tick" />
          {lookedAtBy(card.stills)}
        </span>
      )}
    </p>
  )
}
