/** Traps that ask for a visit, loudest first, for pages where programs are planned; nothing where none does. */
import { useReloadOnChange } from '../api/changes.ts'
import { yardSheetQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { trapFact, trapWords as words } from '../text/traps.ts'
import { yardWords } from '../text/yard.ts'
import { FactChip } from './fact.tsx'

const POLL_MS = 20_000

/** `pointIds`: of these alone. */
export function TrapAlarms({ pointIds }: { readonly pointIds?: readonly number[] }) {
  const { answer, failure, reload } = useAnswer(yardSheetQuestion, POLL_MS)
  useReloadOnChange(reload)
  // An answer of this morning would say that all is well.
  if (failure !== null) return <p class="stale">{yardWords.trapsUnknown}</p>
  const due = (answer?.traps ?? []).filter(
    ({ pointId, trap }) => trap.dueBy !== null && (pointIds?.includes(pointId) ?? true),
  )
  if (answer === null || due.length === 0) return null
  const late = due.filter(({ trap }) => trap.overdue).length
  return (
    <section class={`trap-alarms ${late > 0 ? 'trap-alarms-late' : ''}`} aria-labelledby="trap-alarms">
      <h2 id="trap-alarms">{words.alarmHead(late)}</h2>
      <ul class="traps-now">
        {due.map(({ pointId, pointName, trap }) => (
          <li key={pointId}>
            <a class="button" href={`/points/${pointId}`}>
              {pointName}
            </a>
            <FactChip fact={trapFact(trap, answer.now)} icon="trap" />
          </li>
        ))}
      </ul>
      <p class="small">{words.cameraIsNoVisit}</p>
    </section>
  )
}
