/** The count of one photo: what stands, agree, or a stepper for each species. */
import { useState } from 'preact/hooks'
import type { ChecksRecorded, Still } from '../../services/http/shapes.ts'
import { SPECIES, type Species } from '../../services/words.ts'
import { type Failure, failureOf, tell } from '../api/ask.ts'
import type { Word } from '../api/words.ts'
import { speciesMany, speciesName, tallyWords } from '../text/counts.ts'
import { checkWords, photoWords } from '../text/photo.ts'
import { Icon } from './icon.tsx'
import { FailedNotice } from './notice.tsx'

/** More than this in one photo is a slip of the finger, and the service's own bound. */
const HEAD_MOST = 999

interface CountFormProps {
  readonly still: Still
  readonly said: () => void
}

export function CountForm({ still, said }: CountFormProps) {
  const [counts, setCounts] = useState<Readonly<Record<Species, number>> | null>(null)
  const [sending, setSending] = useState(false)
  const [failure, setFailure] = useState<Failure | null>(null)
  const say = async (word: Word) => {
    setSending(true)
    setFailure(null)
    try {
      await tell<ChecksRecorded>('POST', '/api/checks', { words: [word] })
      setCounts(null)
      said()
    } catch (thrown) {
      setFailure(failureOf(thrown))
    } finally {
      setSending(false)
    }
  }
  const step = (species: Species, by: number) =>
    setCounts((before) =>
      before === null
        ? before
        : { ...before, [species]: Math.min(HEAD_MOST, Math.max(0, before[species] + by)) },
    )
  const standing = still.check !== null && still.check.verdict !== 'withdrawn'
  return (
    <section class="count-form" aria-labelledby="count-head">
      <h2 id="count-head">
        {standing ? photoWords.stands : photoWords.cameraCount}: {tallyWords(still.tally)}
      </h2>
      {standing && still.check !== null && <p role="status">{checkWords(still.check)}</p>}
      {counts === null ? (
        <div class="button-row">
          <button
            type="button"
            class="button button-strong"
            disabled={sending}
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
            disabled={sending}
            onClick={() => say({ stillId: still.id, verdict: 'corrected', counts: {} })}
          >
            <Icon name="none" />
            {photoWords.nothing}
          </button>
          {standing && (
            <button
              type="button"
              class="button"
              disabled={sending}
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
              disabled={sending}
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
      {failure !== null && <FailedNotice failure={failure} />}
    </section>
  )
}

function allSpecies(still: Still): Record<Species, number> {
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
