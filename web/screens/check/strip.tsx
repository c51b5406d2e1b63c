/** The photos of a card in a row; a tap shows one large. */
import { Photo } from '../../parts/photo.tsx'
import { standsLine } from '../../text/check.ts'
import { plural } from '../../text/counts.ts'
import { clockOf } from '../../text/times.ts'
import type { CardNow } from './standing.ts'

interface CardStripProps {
  readonly card: CardNow
  readonly shownId: number
  readonly show: (id: number) => void
}

export function CardStrip({ card, shownId, show }: CardStripProps) {
  return (
    <ul class="card-strip" aria-label={plural(card.stills.length, 'photo')}>
      {card.stills.map((still) => (
        <li key={still.id}>
          <button
            type="button"
            class="strip-photo"
            aria-pressed={still.id === shownId}
            aria-label={standsLine(still)}
            onClick={() => show(still.id)}
          >
            <Photo still={still} size="small" labels={false} drawn={still.word?.boxes ?? []} />
            <span>{clockOf(still.takenAt)}</span>
          </button>
        </li>
      ))}
    </ul>
  )
}
