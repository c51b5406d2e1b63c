/** What the animals on a card are instead: one of the five, or a kind of the station's own. */
import { SPECIES, type Species } from '../../../services/words.ts'
import { useInSight } from '../../parts/in-sight.ts'
import { checkWordsOnScreen as words } from '../../text/check.ts'
import { speciesMany } from '../../text/counts.ts'

/** Own kinds that have a key: there are nine, and the five species come first. */
export const MOST_KEYS = 9 - SPECIES.length

interface SpeciesChoiceProps {
  readonly become: (species: Species) => void
  /** Kinds of the station's own, by name. */
  readonly kinds: readonly string[]
  readonly becomeOther: (kind: string) => void
  readonly nothing: () => void
  readonly keep: () => void
}

export function SpeciesChoice({ become, kinds, becomeOther, nothing, keep }: SpeciesChoiceProps) {
  const here = useInSight<HTMLFieldSetElement>()
  return (
    <fieldset class="choice" ref={here}>
      <legend>{words.isA}</legend>
      {SPECIES.map((to, index) => (
        <button type="button" class="button" onClick={() => become(to)} key={to}>
          {speciesMany(to)} <kbd>{index + 1}</kbd>
        </button>
      ))}
      {kinds.map((kind, index) => (
        <button type="button" class="button" onClick={() => becomeOther(kind)} key={kind}>
          {kind} {index < MOST_KEYS && <kbd>{SPECIES.length + index + 1}</kbd>}
        </button>
      ))}
      {kinds.length > 0 && <p class="small">{words.otherNote}</p>}
      <button type="button" class="button" onClick={nothing}>
        {words.nothing} <kbd>N</kbd>
      </button>
      <button type="button" class="button" onClick={keep}>
        {words.keep} <kbd>Esc</kbd>
      </button>
    </fieldset>
  )
}
