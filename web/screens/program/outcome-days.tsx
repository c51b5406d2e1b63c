/** What was taken each day, with the effort it took: a table, so that a falling catch is seen. */
import type { OutcomeAnswer } from '../../../services/http/yard-shapes.ts'
import { FATES } from '../../../services/tally/fates.ts'
import { dayName } from '../../text/times.ts'
import { effortWords, fateName, yardWords as words } from '../../text/yard.ts'

export function OutcomeDays({ outcomes }: { readonly outcomes: readonly OutcomeAnswer[] }) {
  const standing = outcomes.filter(({ takenBack }) => takenBack === null)
  const fates = FATES.filter((fate) => standing.some((one) => one.fate === fate))
  const days = [...new Set(standing.map(({ day }) => day))].sort()
  return (
    <div class="numbers">
      <table>
        <caption>{words.days}</caption>
        <thead>
          <tr>
            <th scope="col">{words.day}</th>
            <th scope="col">{words.point}</th>
            {fates.map((fate) => (
              <th scope="col" key={fate}>
                {fateName(fate)}
              </th>
            ))}
            <th scope="col">{words.effort}</th>
          </tr>
        </thead>
        <tbody>
          {days.map((day) => {
            const rows = standing.filter((one) => one.day === day)
            return (
              <tr key={day}>
                <th scope="row">{dayName(day)}</th>
                <td>{[...new Set(rows.map(({ pointName }) => pointName))].join(', ')}</td>
                {fates.map((fate) => (
                  <td key={fate}>
                    {rows.filter((one) => one.fate === fate).reduce((sum, { head }) => sum + head, 0)}
                  </td>
                ))}
                <td>{effortWords(rows)}</td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </div>
  )
}
