/** The last entries of a point: those that wait on this phone, then those that the service has. */
import { useReloadOnChange } from '../../api/changes.ts'
import { outcomesQuestion, trapLogQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import type { YardEntry } from '../../api/yard-entries.ts'
import { Skeleton } from '../../parts/notice.tsx'
import { yardWords as words } from '../../text/yard.ts'
import { EntryList, inOrder, type Listed } from './entry-list.tsx'
import { useReloadOnTaken, useYardOut } from './use-yard-out.ts'
import { canBePutRight, entryWords } from './waiting.tsx'

const SHOWN = 8

interface EnteredHereProps {
  readonly pointId: number
  readonly putRight: (one: Listed) => void
  readonly putWaitingRight: (entry: YardEntry) => void
  readonly takeBack: (one: Listed) => void
}

export function EnteredHere({ pointId, putRight, putWaitingRight, takeBack }: EnteredHereProps) {
  const outcomes = useAnswer(outcomesQuestion({ point: pointId, limit: SHOWN }))
  const trap = useAnswer(trapLogQuestion(pointId, SHOWN))
  const reload = () => {
    outcomes.reload()
    trap.reload()
  }
  useReloadOnTaken(reload)
  useReloadOnChange(
    reload,
    ({ pointIds }) => pointIds === null || pointIds.length === 0 || pointIds.includes(pointId),
  )
  const { entries } = useYardOut()
  const failed = outcomes.failure !== null || trap.failure !== null
  const known = outcomes.answer !== null && trap.answer !== null
  const listed = known ? inOrder(outcomes.answer!.outcomes, trap.answer!.log).slice(0, SHOWN) : []
  // One whose answer was lost waits here though the service has it.
  const has = new Set(listed.map(({ entry }) => entry.id))
  const waiting = entries.filter((entry) => isHere(entry, pointId, has))
  return (
    <section aria-labelledby="entered">
      <h2 id="entered">{words.entries}</h2>
      <p class="small">{words.entriesHint}</p>
      {waiting.length > 0 && (
        <ul class="entries">
          {waiting.map((entry) => (
            <li key={JSON.stringify(entry)}>
              <div>
                <p>
                  <strong>{entryWords(entry)}</strong>
                </p>
                <p class="small">{words.waitingTag}</p>
              </div>
              {canBePutRight(entry) && (
                <div class="button-row">
                  <button type="button" class="button" onClick={() => putWaitingRight(entry)}>
                    {words.putRight}
                  </button>
                </div>
              )}
            </li>
          ))}
        </ul>
      )}
      {!known && !failed && <Skeleton shape="line" count={3} />}
      {failed && <p class="stale">{words.entriesFailed}</p>}
      {known && listed.length === 0 && waiting.length === 0 && <p>{words.none}</p>}
      <EntryList entries={listed} putRight={putRight} takeBack={takeBack} />
    </section>
  )
}

function isHere(entry: YardEntry, pointId: number, has: ReadonlySet<string>): boolean {
  if (entry.to !== 'outcomes' && entry.to !== 'trap log') return false
  return entry.body.words.some(
    (word) => word.kind !== 'withdrawn' && word.pointId === pointId && !has.has(word.id),
  )
}
