/** The count of one photo: what stands, agree, or a stepper for each species. */
import { useState } from 'preact/hooks'
import { SPECIES, type Species } from '../../services/words.ts'
import type { Word } from '../api/words.ts'
import type { StillNow } from '../screens/check/standing.ts'
import { withOthers } from '../text/check.ts'
import { speciesMany, speciesName } from '../text/counts.ts'
import { checkWords, photoWords } from '../text/photo.ts'
import { Icon } from './icon.tsx'

/** More than this in one photo is a slip of the finger, and the service's own bound. */
const HEAD_MOST = 999

interface CountFormProps {
  readonly still: StillNow
  readonly say: (word: Word) => void
}

export function CountForm({ still, ...given }: CountFormProps) {
  const [counts, setCounts] = useState<Readonly<Record<Species, number>> | null>(null)
  const say = (word: Word) => {
    given.say(word)
    setCounts(null)
  }
  const step = (species: Species, by: number) =>
    setCounts((before) =>
      before === null
        ? before
        : { ...before, [species]: Math.min(HEAD_MOST, Math.max(0, before[species] + by)) },
    )
  const standing = still.word !== null
  const counted = standing && still.word.counts !== null
  return (
    <section class="count-form" aria-labelledby="count-head">
      <h2 id="count-head">
        {counted ? photoWords.stands : photoWords.cameraCount}:{' '}
        {withOthers(still.tally, still.word?.others ?? null)}
      </h2>
      {standing && still.check !== null && <p role="status">{checkWords(still.check)}</p>}
      {counts === null ? (
        <div class="button-row">
          <button
            type="button"
            class="button button-strong"
            onClick={() => say({ stillId: still.id, verdict: 'agreed' })}
          >
            <Icon name="tick" />
            {photoWords.agree}
          </button>
          <button type="button" class="button" onClick={() => setCounts(allSpecies(still))}>
            <Icon name="plus" />
            {photoWords.correct}
          </button>
          <button
            type="button"
            class="button"
            onClick={() => say({ stillId: still.id, verdict: 'corrected', counts: {} })}
          >
            <Icon name="none" />
            {photoWords.nothing}
          </button>
          {standing && (
            <button
              type="button"
              class="button"
              onClick={() => say({ stillId: still.id, verdict: 'withdrawn' })}
            >
              <Icon name="undo" />
              {photoWords.withdraw}
            </button>
          )}
        </div>
      ) : (
        <>
          <ul class="steppers">
            {SPECIES.map((species) => (
              <li key={species}>
                <span class="stepper-name">{speciesName(species)}</span>
                <button
                  type="button"
                  class="button button-square"
                  aria-label={photoWords.fewer(species)}
                  onClick={() => step(species, -1)}
                >
                  <Icon name="minus" />
                </button>
                <output aria-label={speciesMany(species)}>{counts[species]}</output>
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
          <div class="button-row">
            <button
              type="button"
              class="button button-strong"
              onClick={() => say({ stillId: still.id, verdict: 'corrected', counts: present(counts) })}
            >
              {photoWords.save}
            </button>
            <button type="button" class="button" onClick={() => setCounts(null)}>
              {photoWords.cancel}
            </button>
          </div>
        </>
      )}
    </section>
  )
}

function allSpecies(still: StillNow): Record<Species, number> {
  const count = (species: Species) => still.tally[species] ?? 0
  return {
    cattle: count('cattle'),
    camel: count('camel'),
    horse: count('horse'),
    donkey: count('donkey'),
    goat: count('goat'),
  }
}

/** A species that is not there is left out. */
function present(counts: Readonly<Record<Species, number>>): Partial<Record<Species, number>> {
  return Object.fromEntries(
    SPECIES.filter((species) => counts[species] > 0).map((name) => [name, counts[name]]),
  )
}
