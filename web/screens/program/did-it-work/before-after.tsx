/** Visits before and after at the program's points and next door; each number opens its photos. */
import type {
  DidItWorkAnswer,
  WorkedChange,
  WorkedPoint,
} from '../../../../services/http/did-it-work-shapes.ts'
import { withQuery } from '../../../api/questions.ts'
import { Numbers } from '../../../parts/numbers.tsx'
import { countWords, timesWords, unlikeLine, didItWorkWords as words } from '../../../text/did-it-work.ts'
import { told } from '../../../text/pressure.ts'

export function BeforeAfter({ answer }: { readonly answer: DidItWorkAnswer }) {
  const { program, neighbours } = answer.change
  return (
    <>
      <h3>{words.table}</h3>
      <p class="small">{words.tableHint}</p>
      <Numbers label={words.table} heads={Object.values(words.heads)}>
        {program !== null && <Together name={words.together} change={program} />}
        {answer.points.map((point) =>
          point.part === 'program' ? <PointRow answer={answer} point={point} key={point.pointId} /> : null,
        )}
        {neighbours !== null && <Together name={words.neighbours} change={neighbours} />}
        {answer.points.map((point) =>
          point.part === 'neighbour' ? <PointRow answer={answer} point={point} key={point.pointId} /> : null,
        )}
      </Numbers>
    </>
  )
}

function Together({ name, change }: { readonly name: string; readonly change: WorkedChange }) {
  return (
    <tr class="worked-together">
      <th scope="row" colSpan={3}>
        {name}
      </th>
      <td>
        <Change change={change} />
      </td>
    </tr>
  )
}

function Change({ change }: { readonly change: WorkedChange }) {
  return (
    <>
      <span class={`worked-${change.verdict.replaceAll(' ', '-')}`}>{change.verdict}</span>
      <small class="worked-where">{timesWords(change)}</small>
    </>
  )
}

interface PointRowProps {
  readonly answer: DidItWorkAnswer
  readonly point: WorkedPoint
}

function PointRow({ answer, point }: PointRowProps) {
  const unlike = unlikeLine(point)
  return (
    <tr>
      <th scope="row">
        <a href={`/points/${point.pointId}`}>{point.name}</a>
        <small class="worked-where">
          {point.part === 'program' ? words.ofProgram : `${told(point.km)} km off`}
        </small>
        {unlike !== null && <small class="worked-where">{unlike}</small>}
      </th>
      <td>
        <Count answer={answer} point={point} spell="before" />
      </td>
      <td>
        <Count answer={answer} point={point} spell="after" />
      </td>
      <td>
        <Change change={point.change} />
      </td>
    </tr>
  )
}

function Count({ answer, point, spell }: PointRowProps & { readonly spell: 'before' | 'after' }) {
  const nights = answer[spell]
  const told = countWords(point[spell])
  if (nights === null || point[spell].visits === 0) return <>{told}</>
  const { from, to } = nights
  const href = withQuery('/photos', { point: point.pointId, species: answer.program.species, from, to })
  return (
    <a href={href} aria-label={`${spell}, ${point.name}: ${told}`}>
      {told}
    </a>
  )
}
