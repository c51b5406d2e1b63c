/** How many there were, from a falling catch; where that can't be told, why not. */
import type { ComponentChildren } from 'preact'
import { useRoute } from 'preact-iso'
import type { DidItWorkAnswer, RemovalAnswer } from '../../../../services/http/did-it-work-shapes.ts'
import { withQuery } from '../../../api/questions.ts'
import { Numbers } from '../../../parts/numbers.tsx'
import { didItWorkWords as words } from '../../../text/did-it-work.ts'
import { told } from '../../../text/pressure.ts'
import {
  equalLine,
  estimateWords,
  moreRoundsWords,
  noRoundsWords,
  refusedWords,
  unequalLine,
} from '../../../text/removal.ts'
import { dayName } from '../../../text/times.ts'

type Rounds = Extract<RemovalAnswer, { kind: 'rounds' }>
const SHARES = [50, 80, 90, 95] as const

export function Removal({ answer }: { readonly answer: DidItWorkAnswer }) {
  const { removal, program } = answer
  return (
    <>
      <h3>{words.removal}</h3>
      <p class="small">{words.removalHint}</p>
      {removal.kind === 'none' ? (
        <p>{noRoundsWords(removal.why, program.species)}</p>
      ) : (
        <Told answer={answer} removal={removal} />
      )}
      {!(removal.kind === 'none' && removal.why === 'nothing taken') && <Choices answer={answer} />}
    </>
  )
}

function Told({ answer, removal }: { readonly answer: DidItWorkAnswer; readonly removal: Rounds }) {
  const { equal, unequal, unit, rounds } = removal
  const { species } = answer.program
  return (
    <>
      {equal.kind === 'estimate' && (
        <>
          <p class="worked-estimate">{estimateWords(equal, species)}</p>
          <p>{moreRoundsWords(equal, answer.share)}</p>
          <p class="small">{equalLine(equal)}</p>
        </>
      )}
      {unequal.kind === 'estimate' && (
        <>
          <p class="worked-estimate">{estimateWords(unequal, species)}</p>
          <p class="small">{unequalLine(unequal, unit)}</p>
        </>
      )}
      {refusals(removal).map((line) => (
        <p key={line}>{line}</p>
      ))}
      <Numbers label={words.rounds} heads={Object.values(words.roundHeads)}>
        {rounds.map(({ from, to, head, cameBack, effort }) => (
          <tr key={from}>
            <th scope="row">{from === to ? dayName(from) : `${dayName(from)} to ${dayName(to)}`}</th>
            <td>{head}</td>
            <td>{cameBack}</td>
            <td>{unit === null ? words.allEqual : `${told(effort)} ${unit}`}</td>
            <td>{told(head / effort)}</td>
          </tr>
        ))}
      </Numbers>
    </>
  )
}

/** Where one method tells, nobody asks why the other does not. */
function refusals({ equal, unequal }: Rounds): string[] {
  if (equal.kind === 'estimate' || unequal.kind === 'estimate') return []
  const lines = [refusedWords(equal.why, 'equal'), refusedWords(unequal.why, 'unequal')]
  return equal.why === unequal.why ? lines.slice(0, 1) : lines
}

/** What a round is, and whose word the effort is: links, so that a page can be kept and sent. */
function Choices({ answer }: { readonly answer: DidItWorkAnswer }) {
  const { query } = useRoute()
  const path = `/programs/${answer.program.id}/did-it-work`
  const link = (change: object, shown: boolean, text: string) => (
    <a
      class="button"
      href={withQuery(path, { ...query, ...change })}
      aria-current={shown ? 'true' : undefined}
      key={text}
    >
      {text}
    </a>
  )
  const byWeek = query.round === 'week'
  const equal = query.effort === 'equal'
  return (
    <div class="worked-choices screen-only">
      <Choice name={words.roundLength}>
        {link({ round: null }, !byWeek, words.byDay)}
        {link({ round: 'week' }, byWeek, words.byWeek)}
      </Choice>
      <Choice name={words.effort}>
        {link({ effort: null }, !equal, words.asWritten)}
        {link({ effort: 'equal' }, equal, words.allEqual)}
      </Choice>
      <Choice name={words.share}>
        {SHARES.map((share) => link({ share }, share === answer.share, words.ofHundred(share)))}
      </Choice>
    </div>
  )
}

function Choice({ name, children }: { readonly name: string; readonly children: ComponentChildren }) {
  return (
    <nav class="worked-choice" aria-label={name}>
      <span>{name}</span>
      <div class="button-row">{children}</div>
    </nav>
  )
}
