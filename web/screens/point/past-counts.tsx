/** What notebooks say of a point: a list of its own, away from what cameras count. */
import { useState } from 'preact/hooks'
import { pastCountsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice } from '../../parts/notice.tsx'
import { Numbers } from '../../parts/numbers.tsx'
import { speciesName } from '../../text/counts.ts'
import { nightOfNotebook, pastCountWords, watchedPart } from '../../text/past-counts.ts'

const words = pastCountWords.point
const SHOWN = 10

/** Nothing where no notebook tells of the point: most have none. */
export function PastCounts({ id }: { readonly id: string }) {
  const { answer, failure, reload } = useAnswer(pastCountsQuestion(id))
  const [all, setAll] = useState(false)
  if (answer === null) return failure === null ? null : <FailedNotice failure={failure} again={reload} />
  const { counts } = answer
  if (counts.length === 0) return null
  return (
    <section aria-labelledby="notebook-head" class="notebook">
      <h2 id="notebook-head">{words.title}</h2>
      <p class="small">{words.hint}</p>
      <Numbers label={words.title} heads={Object.values(words.heads)}>
        {(all ? counts : counts.slice(0, SHOWN)).map((count) => (
          <tr key={`${count.night} ${count.species}`}>
            <th scope="row">{nightOfNotebook(count.night)}</th>
            <td>{speciesName(count.species)}</td>
            <td>{count.head}</td>
            <td>{count.visits ?? pastCountWords.notSaid}</td>
            <td>{watchedPart(count.watched)}</td>
            <td>{count.note ?? ''}</td>
          </tr>
        ))}
      </Numbers>
      {counts.length > SHOWN && !all && (
        <button type="button" class="button" onClick={() => setAll(true)}>
          {words.showAll(counts.length)}
        </button>
      )}
    </section>
  )
}
