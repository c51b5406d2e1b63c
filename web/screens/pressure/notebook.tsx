/** The week and the four before it beside what a notebook says: two sources, side by side, never added up. */
import { pastCountsComparedQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice } from '../../parts/notice.tsx'
import { Numbers } from '../../parts/numbers.tsx'
import { speciesName } from '../../text/counts.ts'
import { changeWords, comparedLine, mostWords, pastCountWords, visitsWords } from '../../text/past-counts.ts'

const words = pastCountWords.compared

/** Nothing where there is no notebook: most stations have none. */
export function Notebook({ week }: { readonly week: string }) {
  const { answer, failure, reload } = useAnswer(pastCountsComparedQuestion(week))
  if (answer === null) return failure === null ? null : <FailedNotice failure={failure} again={reload} />
  const { notebook, rows } = answer
  if (notebook === null || rows.length === 0) return null
  return (
    <section aria-labelledby="beside-head" class="notebook notebook-beside">
      <h2 id="beside-head">{words.title}</h2>
      <p class="small">{comparedLine(answer)}</p>
      {notebook.yearsBack === null && <p class="small notebook-other">{words.otherSeason}</p>}
      <Numbers label={words.title} heads={[words.point, ...Object.values(words.heads)]}>
        {rows.map((row) => (
          <tr key={`${row.pointId} ${row.species}`}>
            <th scope="row">
              <a href={`/points/${row.pointId}`}>{row.pointName}</a>
            </th>
            <td>{speciesName(row.species)}</td>
            <td class="from-notebook">{mostWords(row.notebook)}</td>
            <td>{mostWords(row.cameras)}</td>
            <td class="from-notebook">{visitsWords(row.notebook)}</td>
            <td>{visitsWords(row.cameras)}</td>
            <td>{changeWords(row.change)}</td>
          </tr>
        ))}
      </Numbers>
      <p class="small">{words.visits}</p>
      <p class="honesty">{words.caution}</p>
    </section>
  )
}
