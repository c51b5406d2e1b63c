/** Traps that ask for a visit, the one due first on top; never from what is kept. */
import { useReloadOnChange } from '../../api/changes.ts'
import { yardSheetQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FactChip } from '../../parts/fact.tsx'
import { Skeleton } from '../../parts/notice.tsx'
import { trapFact } from '../../text/traps.ts'
import { yardWords as words } from '../../text/yard.ts'
import { useReloadOnTaken } from './use-yard-out.ts'

const POLL_MS = 20_000

export function TrapsNow({ choose }: { readonly choose: (pointId: number) => void }) {
  const { answer, failure, reload } = useAnswer(yardSheetQuestion, POLL_MS)
  useReloadOnChange(reload)
  useReloadOnTaken(reload)
  // An answer of this morning would say that all is well.
  if (failure !== null) return <p class="stale">{words.trapsUnknown}</p>
  if (answer === null) return <Skeleton shape="line" count={2} />
  const due = answer.traps.filter(({ trap }) => trap.dueBy !== null)
  return (
    <section aria-labelledby="traps-now">
      <h2 id="traps-now">{words.trapsNow}</h2>
      {due.length === 0 && <p>{words.noTrapsSet}</p>}
      <ul class="traps-now">
        {due.map(({ pointId, pointName, trap }) => (
          <li key={pointId}>
            <button type="button" class="button" onClick={() => choose(pointId)}>
              {pointName}
            </button>
            <FactChip fact={trapFact(trap, answer.now)} icon="trap" />
          </li>
        ))}
      </ul>
    </section>
  )
}
