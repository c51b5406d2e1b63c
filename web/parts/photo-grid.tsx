/** Photos as a grid of small ones; each opens its own page, with the list remembered for "next photo". */
import type { Still } from '../../services/http/shapes.ts'
import { stillWords } from '../text/photo.ts'
import { clockOf, dayName } from '../text/times.ts'
import { Photo } from './photo.tsx'
import { rememberList } from './photo-list.ts'

interface PhotoGridProps {
  readonly stills: readonly Still[]
  /** Names the point under each photo, where the list goes over several. */
  readonly named?: boolean
}

export function PhotoGrid({ stills, named = false }: PhotoGridProps) {
  const open = () => rememberList(stills.map((still) => still.id))
  return (
    <ul class="photo-grid">
      {stills.map((still) => (
        <li key={still.id}>
          <a class="photo-card" href={`/photos/${still.id}`} onClick={open}>
            <Photo still={still} size="small" labels={false} />
            <span class="photo-line">
              <strong>{clockOf(still.takenAt)}</strong> {dayName(still.takenAt)}
              {named && `, ${still.pointName}`}
            </span>
            <span class="photo-line">{stillWords(still)}</span>
          </a>
        </li>
      ))}
    </ul>
  )
}
