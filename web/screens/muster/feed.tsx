/** How long the feed round each water lasts without rain. */
import type { MusterAnswerShape } from '../../../services/http/muster-shapes.ts'
import { withQuery } from '../../api/questions.ts'
import { Numbers } from '../../parts/numbers.tsx'
import { feedDaysWords, feedNotToldLines, feedWords } from '../../text/feed.ts'
import { musterWords as words } from '../../text/muster.ts'
import { told } from '../../text/pressure.ts'
import { nameOf } from './save-figures.ts'

export function Feed({ answer }: { readonly answer: MusterAnswerShape }) {
  const { feed, figures } = answer
  return (
    <section aria-labelledby="feed-head">
      <h2 id="feed-head">{words.feed}</h2>
      <p class="small">{words.feedHint(figures.rain.days)}</p>
      {feed.length === 0 ? (
        <p>{words.noFeed}</p>
      ) : (
        <>
          <Numbers label={words.feed} heads={Object.values(words.feedHeads)}>
            {feed.map((row) => (
              <tr key={row.pointId}>
                <th scope="row">
                  <a href={withQuery('/photos', { point: row.pointId, from: answer.from, to: answer.to })}>
                    {nameOf(answer, row.pointId)}
                  </a>
                </th>
                <td>{feedWords(row)}</td>
                <td>{feedDaysWords(row.days)}</td>
                <td>{feedDaysWords(row.daysWithoutFeral)}</td>
                <td>
                  {told(row.carries.low)} to {told(row.carries.high)}
                </td>
              </tr>
            ))}
          </Numbers>
          {feedNotToldLines(answer).map((line) => (
            <p class="small" key={line}>
              {line}
            </p>
          ))}
        </>
      )}
    </section>
  )
}
