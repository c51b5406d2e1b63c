/** What the week's numbers leave out: nights that were not watched, photos nobody has checked or read yet. */
import type { PressureAnswer } from '../../../services/http/pressure-shapes.ts'
import { checkLine, gapsOf, pressureWords as words } from '../../text/pressure.ts'

export function Gaps({ answer }: { readonly answer: PressureAnswer }) {
  const gaps = gapsOf(answer)
  return (
    <section aria-labelledby="gaps-head">
      <h2 id="gaps-head">{words.gaps}</h2>
      {gaps.length === 0 && <p>{words.allWatched}</p>}
      <ul class="plain-list gaps">
        {gaps.map((gap) => (
          <li key={gap}>{gap}</li>
        ))}
      </ul>
      <p>{answer.toCheck > 0 ? <a href="/check">{checkLine(answer)}</a> : checkLine(answer)}</p>
    </section>
  )
}
