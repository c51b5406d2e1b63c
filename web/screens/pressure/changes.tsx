/** What changed in the week, in sentences, what most asks for a person first. */
import type { PressureAnswer } from '../../../services/http/pressure-shapes.ts'
import { beingReadLine, changesOf, pressureWords as words } from '../../text/pressure.ts'
import { photosOf } from './photos-of.ts'

export function Changes({ answer }: { readonly answer: PressureAnswer }) {
  const changes = changesOf(answer)
  const beingRead = beingReadLine(answer)
  return (
    <section aria-labelledby="changed-head">
      <h2 id="changed-head">{words.changed}</h2>
      {beingRead !== null && <p>{beingRead}</p>}
      {changes.length === 0 && beingRead === null && <p>{words.nothingChanged}</p>}
      <ul class="plain-list changes">
        {changes.map((change) => (
          <li key={`${change.row.pointId} ${change.row.species}`}>
            <span class={`swatch swatch-${change.row.species}`} aria-hidden="true" />
            <a href={photosOf(answer, change.row)}>{change.words}</a>
            {change.unlike !== null && <small> {change.unlike}</small>}
          </li>
        ))}
      </ul>
    </section>
  )
}
