/** The count of one photo: what stands, agree, or a stepper for each species and each kind of one's own. */
import { useState } from 'preact/hooks'
import { SPECIES } from '../../services/words.ts'
import { ownKindsQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import type { Word } from '../api/words.ts'
import type { StillNow } from '../screens/check/standing.ts'
import { withOthers } from '../text/check.ts'
import { speciesMany } from '../text/counts.ts'
import { kindTitle } from '../text/own-animals.ts'
import { checkWords, photoWords } from '../text/photo.ts'
import { Icon } from './icon.tsx'

/** More than this in one photo is a slip of the finger, and the service's own bound. */
const HEAD_MOST = 999

interface CountFormProps {
  readonly still: StillNow
  readonly say: (word: Word) => void
}

export function CountForm({ still, ...given }: CountFormProps) {
  const [counts, setCounts] = useState<Readonly<Record<string, number>> | null>(null)
  const own = useAnswer(counts === null ? null : ownKindsQuestion)
  const say = (word: Word) => {
    given.say(word)
    setCounts(null)
  }
  const step = (kind: string, by: number) =>
    setCounts((before) =>
      before === null
        ? before
        : { ...before, [kind]: Math.min(HEAD_MOST, Math.max(0, (before[kind] ?? 0) + by)) },
    )
  const ownKinds = [
    ...new Set([
      ...(own.answer?.kinds ?? []).map(({ name }) => name),
      // One that has been taken off the list since is not forgotten by a word about something else.
      ...Object.keys(still.word?.others ?? {}),
    ]),
  ]
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
          <button type="button" class="button" onClick={() => setCounts(allKinds(still))}>
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
              <Stepper
                key={species}
                name={species}
                many={speciesMany(species)}
                head={counts[species] ?? 0}
                step={(by) => step(species, by)}
              />
            ))}
            {ownKinds.map((kind) => (
              <Stepper
                key={kind}
                name={kind}
                many={kind}
                head={counts[kind] ?? 0}
                step={(by) => step(kind, by)}
              />
            ))}
          </ul>
          <div class="button-row">
            <button
              type="button"
              class="button button-strong"
              onClick={() => say(corrected(still.id, counts, ownKinds))}
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

interface StepperProps {
  readonly name: string
  readonly many: string
  readonly head: number
  readonly step: (by: number) => void
}

function Stepper({ name, many, head, step }: StepperProps) {
  return (
    <li>
      <span class="stepper-name">{kindTitle(name)}</span>
      <button
        type="button"
        class="button button-square"
        aria-label={photoWords.fewer(name)}
        onClick={() => step(-1)}
      >
        <Icon name="minus" />
      </button>
      <output aria-label={many}>{head}</output>
      <button
        type="button"
        class="button button-square"
        aria-label={photoWords.more(name)}
        onClick={() => step(1)}
      >
        <Icon name="plus" />
      </button>
    </li>
  )
}

/** What stands, of the five and of kinds of one's own. */
function allKinds(still: StillNow): Record<string, number> {
  return { ...still.word?.others, ...still.tally }
}

/** What is not there is left out. */
function corrected(
  stillId: number,
  counts: Readonly<Record<string, number>>,
  ownKinds: readonly string[],
): Word {
  const present = (kinds: readonly string[]) =>
    Object.fromEntries(kinds.flatMap((kind) => ((counts[kind] ?? 0) > 0 ? [[kind, counts[kind]!]] : [])))
  const others = present(ownKinds)
  return {
    stillId,
    verdict: 'corrected',
    counts: present(SPECIES),
    ...(Object.keys(others).length > 0 && { others }),
  }
}
