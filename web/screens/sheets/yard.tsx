/** The daily yard sheet: set traps and what they hold, what is due first on top, and lines to fill in. */
import type { YardSheetAnswer } from '../../../services/http/yard-shapes.ts'
import { yardSheetQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { localCodes, notOwnerless, trapSafety } from '../../text/safety.ts'
import { sheetWords } from '../../text/sheets.ts'
import { dayAndClock, dayName } from '../../text/times.ts'
import { dueWords, heldWords } from '../../text/traps.ts'

const words = sheetWords.yard
const TO_FILL = [words.time, words.headNow, words.cared, words.taken, words.who]
const COLUMNS = 3 + TO_FILL.length
/** What an A4 page holds: lines to fill in, of which one of a trap takes up nearly two. */
const LINES = 16
const LINES_A_TRAP = 1.7
const LEAST_TO_FILL = 2

export function YardSheet() {
  const { answer, failure, reload } = useAnswer(yardSheetQuestion)
  // An old sheet would look like one of today.
  if (failure !== null) return <FailedNotice failure={failure} again={reload} />
  if (answer === null) return <Skeleton shape="row" count={4} />
  return (
    <article class="sheet">
      <p class="sheet-of">
        <strong>{words.of(answer.station, dayName(answer.now))}</strong>{' '}
        {words.asEntered(dayAndClock(answer.now))}
      </p>
      {answer.traps.length === 0 && <p>{words.noTraps}</p>}
      <div class="sheet-scroll">
        <table class="sheet-table">
          <thead>
            <tr>
              {[words.point, words.visits, words.held].map((name) => (
                <th scope="col" key={name}>
                  {name}
                </th>
              ))}
              {TO_FILL.map((name) => (
                <th scope="col" class="to-fill" key={name}>
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {answer.traps.map((row) => (
              <TrapLine row={row} key={row.pointId} />
            ))}
            {Array.from(
              { length: Math.max(LEAST_TO_FILL, Math.floor(LINES - LINES_A_TRAP * answer.traps.length)) },
              (_, line) => (
                <tr key={line}>
                  {Array.from({ length: COLUMNS }, (_, column) => (
                    <td key={column} />
                  ))}
                </tr>
              ),
            )}
          </tbody>
        </table>
      </div>
      <p class="sheet-remarks">{words.remarks}</p>
      <ul class="sheet-safety">
        <li>{`${trapSafety.visit} ${trapSafety.open}`}</li>
        <li>{trapSafety.release}</li>
        <li>{notOwnerless}</li>
        <li>{localCodes}</li>
      </ul>
    </article>
  )
}

function TrapLine({ row }: { readonly row: YardSheetAnswer['traps'][number] }) {
  const { pointName, trap } = row
  const held = trap.held
  return (
    <tr>
      <th scope="row">
        {pointName}
        {trap.state !== null && <small>{words.state(trap.state)}</small>}
      </th>
      <td>
        {words.last(dayAndClock(trap.visitedAt), trap.visitedBy)}
        {trap.dueBy !== null && (
          <>
            <br />
            <strong>{words.due(dueWords(trap.dueBy))}</strong>
            {trap.overdue && `: ${words.late}`}
          </>
        )}
      </td>
      <td>
        {held !== null && heldWords(held)}
        {held?.class != null && ` (${held.class})`}
        {held?.since != null && `, since ${dayAndClock(held.since)}`}
      </td>
      {Array.from({ length: TO_FILL.length }, (_, column) => (
        <td key={column} />
      ))}
    </tr>
  )
}
