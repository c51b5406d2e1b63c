/** What the animals on a card are instead. */
import { SPECIES, type Species } from '../../../services/words.ts'
import { useInSight } from '../../parts/in-sight.ts'
import { checkWordsOnScreen as words } from '../../text/check.ts'
import { speciesMany } from '../../text/counts.ts'

interface SpeciesChoiceProps {
  readonly become: (species: Species) => void
  readonly nothing: () => void
  readonly keep: () => void
}

export function SpeciesChoice({ become, nothing, keep }: SpeciesChoiceProps) {
  const here = useInSight<HTMLFieldSetElement>()
  return (
    <fieldset class="choice" ref={here}>
      <legend>{words.isA}</legend>
      {SPECIES.map((to, index) => (
        <button type="button" class="button" onClick={() => become(to)} key={to}>
          {speciesMany(to)} <kbd>{index + 1}</kbd>
        </button>
      ))}
      <button type="button" class="button" onClick={nothing}>
        {words.nothing} <kbd>N</kbd>
      </button>
      <button type="button" class="button" onClick={keep}>
        {words.keep} <kbd>Esc</kbd>
      </button>
    </fieldset>
  )
}
