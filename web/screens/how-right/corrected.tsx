/** Counts of weeks as seen, and put right by the blind looks: one beside the other, never one for the other. */
import type { EvidenceAnswer, SeenAndCorrectedAnswer } from '../../../services/http/evidence-shapes.ts'
import type { Species } from '../../../services/words.ts'
import { speciesName } from '../../text/counts.ts'
import { howRightWords, spellWords } from '../../text/how-right.ts'
import { correctedWords } from '../../text/shares.ts'

const words = howRightWords.counts

export function Corrected({ counts }: { readonly counts: EvidenceAnswer['counts'][number] }) {
  return (
    <>
      <h3>{spellWords(counts)}</h3>
      <ul class="species-told">
        {counts.species.map((row) => (
          <CountsOf {...row} name={speciesName(row.species)} key={row.species} />
        ))}
      </ul>
      {counts.points.length === 0 ? (
        <p class="hint">{words.noPoints}</p>
      ) : (
        <>
          <h4>{words.points}</h4>
          <ul class="species-told">
            {counts.points.map((row) => (
              <CountsOf
                {...row}
                name={`${row.pointName}, ${row.species}`}
                key={`${row.pointId} ${row.species}`}
              />
            ))}
          </ul>
        </>
      )}
    </>
  )
}

interface CountsOfProps {
  readonly name: string
  readonly species: Species
  readonly visits: SeenAndCorrectedAnswer
  readonly head: SeenAndCorrectedAnswer
}

function CountsOf({ name, species, visits, head }: CountsOfProps) {
  return (
    <li>
      <h4>
        <span class={`swatch swatch-${species}`} aria-hidden="true" />
        {name}
      </h4>
      <dl class="told">
        <dt>{words.visits}</dt>
        <dd>
          <SeenAndRight of={visits} />
        </dd>
        <dt>{words.head}</dt>
        <dd>
          <SeenAndRight of={head} />
        </dd>
      </dl>
    </li>
  )
}

function SeenAndRight({ of: { seen, corrected } }: { readonly of: SeenAndCorrectedAnswer }) {
  const { main, small } = correctedWords(corrected)
  const isTold = corrected.kind !== 'not enough checked to say'
  return (
    <span class="told-share">
      <span>{words.seen(seen)}</span>
      <span class={isTold ? '' : 'told-not'}>
        {isTold ? words.putRight(main) : main} <small>{small}</small>
      </span>
    </span>
  )
}
