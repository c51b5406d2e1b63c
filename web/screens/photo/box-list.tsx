/** What the boxes on a photo are: the camera's, and those that a person drew. */
import { Icon } from '../../parts/icon.tsx'
import { speciesName } from '../../text/counts.ts'
import { kindTitle } from '../../text/own-animals.ts'
import { photoWords } from '../../text/photo.ts'
import type { StillNow } from '../check/standing.ts'

interface BoxListProps {
  readonly still: StillNow
  /** Takes away the drawn box at this place. */
  readonly remove: (at: number) => void
}

export function BoxList({ still, remove }: BoxListProps) {
  const drawn = still.word?.boxes ?? []
  return (
    <section aria-labelledby="boxes-head">
      <h2 id="boxes-head">{photoWords.boxes}</h2>
      {still.boxes.length + drawn.length === 0 && <p>{photoWords.noBoxes}</p>}
      <ul class="box-list">
        {still.boxes.map(({ species, score, counted, box, ownKind }) => (
          <li key={box.join()}>
            <span class={`swatch swatch-${species} ${counted ? '' : 'swatch-unsure'}`} aria-hidden="true" />
            {ownKind === undefined
              ? `${speciesName(species)}, ${photoWords.sureness(score)}`
              : kindTitle(ownKind)}
            {counted ? '' : `, ${photoWords.notCounted}`}
          </li>
        ))}
        {drawn.map(({ species, box }, at) => (
          <li class="box-by-hand" key={box.join()}>
            <span class={`swatch swatch-${species}`} aria-hidden="true" />
            {speciesName(species)}, {photoWords.byHand}
            <button type="button" class="button" onClick={() => remove(at)}>
              <Icon name="none" />
              {photoWords.removeBox}
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}
