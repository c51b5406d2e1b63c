/** How many of each species are on the photo shown. */
import { SPECIES, type Species, type Tally } from '../../../services/words.ts'
import { Icon } from '../../parts/icon.tsx'
import { speciesMany, speciesName } from '../../text/counts.ts'
import { photoWords } from '../../text/photo.ts'

interface HeadsProps {
  readonly counts: Tally
  readonly step: (species: Species, by: number) => void
}

export function Heads({ counts, step }: HeadsProps) {
  return (
    <ul class="steppers">
      {SPECIES.map((species, index) => (
        <li key={species}>
          <span class="stepper-name">
            {speciesName(species)} <kbd>{index + 1}</kbd>
          </span>
          <button
            type="button"
            class="button button-square"
            aria-label={photoWords.fewer(species)}
            onClick={() => step(species, -1)}
          >
            <Icon name="minus" />
          </button>
          <output aria-label={speciesMany(species)}>{counts[species] ?? 0}</output>
          <button
            type="button"
            class="button button-square"
            aria-label={photoWords.more(species)}
            onClick={() => step(species, 1)}
          >
            <Icon name="plus" />
          </button>
        </li>
      ))}
    </ul>
  )
}
