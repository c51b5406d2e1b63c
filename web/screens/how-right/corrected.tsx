/** A week's counts as seen, and put right by the blind looks: side by side, never one for the other. */
import type { EvidenceAnswer, SeenAndCorrectedAnswer } from '../../../services/http/evidence-shapes.ts'
import type { Species } from '../../../services/words.ts'
import { Numbers } from '../../parts/numbers.tsx'
import { speciesName } from '../../text/counts.ts'
import { howRightWords } from '../../text/how-right.ts'
import { correctedWords } from '../../text/shares.ts'

const words = howRightWords.counts

export function Corrected({ week }: { readonly week: NonNullable<EvidenceAnswer['week']> }) {
  const heads = [words.visitsSeen, words.visitsRight, words.headSeen, words.headRight]
  return (
    <>
      <p class="hint">{words.hint(week.from)}</p>
      <Numbers label={words.title} heads={[howRightWords.looks.species, ...heads]}>
        {week.species.map((row) => (
          <CountRow {...row} key={row.species} />
        ))}
      </Numbers>
      {week.points.length === 0 ? (
        <p class="hint">{words.noPoints}</p>
      ) : (
        <>
          <h3>{words.points}</h3>
          <Numbers label={words.points} heads={[words.point, ...heads]}>
            {week.points.map((row) => (
              <CountRow {...row} key={`${row.pointId} ${row.species}`} />
            ))}
          </Numbers>
        </>
      )}
      <p class="hint">{words.note}</p>
    </>
  )
}

interface CountRowProps {
  readonly species: Species
  readonly pointName?: string
  readonly visits: SeenAndCorrectedAnswer
  readonly head: SeenAndCorrectedAnswer
}

function CountRow({ species, pointName, visits, head }: CountRowProps) {
  return (
    <tr>
      <th scope="row">
        <span class={`swatch swatch-${species}`} aria-hidden="true" />
        {pointName === undefined ? speciesName(species) : `${pointName}, ${species}`}
      </th>
      <SeenAndRight of={visits} />
      <SeenAndRight of={head} />
    </tr>
  )
}

function SeenAndRight({ of }: { readonly of: SeenAndCorrectedAnswer }) {
  const { main, small } = correctedWords(of.corrected)
  return (
    <>
      <td class="number">{of.seen.toLocaleString('en-AU')}</td>
      <td class={of.corrected.kind === 'corrected' ? 'number' : 'told-not'}>
        {main} <small>{small}</small>
      </td>
    </>
  )
}
