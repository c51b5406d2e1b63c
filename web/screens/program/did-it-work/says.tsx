/** The verdict, and what it rests on. */
import type { DidItWorkAnswer } from '../../../../services/http/did-it-work-shapes.ts'
import { withQuery } from '../../../api/questions.ts'
import {
  chanceWords,
  dispersionLine,
  rangeLine,
  saysWords,
  seasonWords,
  spellLines,
  toCheckLine,
  didItWorkWords as words,
} from '../../../text/did-it-work.ts'

export function Says({ answer }: { readonly answer: DidItWorkAnswer }) {
  const { program } = answer.change
  const lines = [
    ...spellLines(answer),
    program && chanceWords(program),
    seasonWords(answer),
    dispersionLine(answer),
    toCheckLine(answer),
  ].filter((line): line is string => line !== null)
  return (
    <div class="worked-says">
      <p class="worked-verdict">{saysWords(answer)}</p>
      <ul class="worked-rests">
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
        <li>
          {rangeLine(answer)}{' '}
          <a class="screen-only" href={withQuery('/trap-yards', { species: answer.program.species })}>
            {words.setRange}
          </a>
        </li>
      </ul>
    </div>
  )
}
