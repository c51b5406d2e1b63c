/** What was expected when the program began, and what was taken. */
import type { DidItWorkAnswer } from '../../../../services/http/did-it-work-shapes.ts'
import { withQuery } from '../../../api/questions.ts'
import { Numbers } from '../../../parts/numbers.tsx'
import { expectedLine, metWords, didItWorkWords as words } from '../../../text/did-it-work.ts'
import { rangeWords } from '../../../text/pressure.ts'
import { dayName } from '../../../text/times.ts'

export function ExpectedMet({ answer }: { readonly answer: DidItWorkAnswer }) {
  const { expected, met, program } = answer
  const taken = new Map(met.points.map((point) => [point.pointId, point]))
  const rows = [
    ...(expected?.points ?? []),
    ...met.points
      .filter(({ pointId }) => !expected?.points.some((point) => point.pointId === pointId))
      .map(({ pointId, name }) => ({ pointId, name, head: null, largestGroup: null })),
  ]
  return (
    <>
      <h3>{words.expectedMet}</h3>
      {expected !== null && <p class="small">{expectedLine(expected)}</p>}
      <p>
        {met.days.length === 0 ? words.noOutcomes : metWords(answer)}{' '}
        <a class="screen-only" href={`/programs/${program.id}/outcomes`}>
          {words.outcomes}
        </a>
      </p>
      {rows.length > 0 && (
        <Numbers label={words.expectedMet} heads={Object.values(words.expectedHeads)}>
          {rows.map(({ pointId, name, head, largestGroup }) => (
            <tr key={pointId}>
              <th scope="row">{name}</th>
              <td>
                {expected === null || largestGroup === null ? (
                  'not on the list'
                ) : (
                  <a
                    href={withQuery('/photos', {
                      point: pointId,
                      species: program.species,
                      ...expected.nights,
                    })}
                    aria-label={`${name}: ${rangeWords(head)}`}
                  >
                    {rangeWords(head)}
                  </a>
                )}
              </td>
              <td>{largestGroup ?? ''}</td>
              <td>{taken.get(pointId)?.head ?? 0}</td>
              <td>{taken.get(pointId)?.released ?? 0}</td>
            </tr>
          ))}
        </Numbers>
      )}
      <p class="small">{words.expectedHint}</p>
      {met.days.length > 1 && answer.removal.kind === 'none' && (
        <Numbers label={words.days} heads={Object.values(words.dayHeads)}>
          {met.days.map(({ day, head, released }) => (
            <tr key={day}>
              <th scope="row">{dayName(day)}</th>
              <td>{head}</td>
              <td>{released}</td>
            </tr>
          ))}
        </Numbers>
      )}
    </>
  )
}
