/** Which species the parts below show in full. */
import type { PressureAnswer } from '../../../services/http/pressure-shapes.ts'
import type { Species } from '../../../services/words.ts'
import { withQuery } from '../../api/questions.ts'
import { speciesName } from '../../text/counts.ts'
import { pressureWords as words } from '../../text/pressure.ts'

interface ChosenProps {
  readonly answer: PressureAnswer
  readonly chosen: Species
}

export function ChosenSpecies({ answer, chosen }: ChosenProps) {
  const seen = answer.species.filter(({ species }) => answer.rows.some((row) => row.species === species))
  return (
    <nav class="button-row chosen-species" aria-label={words.chosen}>
      {seen.map(({ species }) => (
        <a
          class="button"
          href={withQuery('/pressure', { week: answer.week, species })}
          aria-current={species === chosen ? 'true' : undefined}
          key={species}
        >
          <span class={`swatch swatch-${species}`} aria-hidden="true" />
          {speciesName(species)}
        </a>
      ))}
    </nav>
  )
}
