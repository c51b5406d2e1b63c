/** The days of a gate plan, each with its hours, sun and moon, and the least visits of people that it asks for. */
import type { GateHoursAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { moonWords, sunWords, visitsLine } from '../../text/gate-hours.ts'
import { trapSafety } from '../../text/safety.ts'
import { clockOf, dayName } from '../../text/times.ts'
import { planWords as words } from '../../text/yard-plan.ts'

export function SetDays({ told }: { readonly told: GateHoursAnswer }) {
  return (
    <>
      <h3>{words.days}</h3>
      <table class="set-days">
        <thead>
          <tr>
            <th scope="col">{words.day}</th>
            <th scope="col">{words.hours}</th>
            <th scope="col">{words.sun}</th>
            <th scope="col">{words.moon}</th>
          </tr>
        </thead>
        <tbody>
          {told.days.map(({ on, setAt, shutAt, sky }) => (
            <tr key={on}>
              <th scope="row">{dayName(on)}</th>
              <td>{`${clockOf(setAt)}, ${clockOf(shutAt)}`}</td>
              <td>{sunWords(sky)}</td>
              <td>{moonWords(sky)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>{visitsLine(told)}</p>
      <p class="small">{trapSafety.visit}</p>
    </>
  )
}
