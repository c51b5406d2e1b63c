/** What ferals drank beside what the cattle drank, point by point. */
import type { PressureAnswer, PressurePoint } from '../../../services/http/pressure-shapes.ts'
import { Numbers } from '../../parts/numbers.tsx'
import { rangeWords, pressureWords as words } from '../../text/pressure.ts'

export function WaterDrunk({ answer }: { readonly answer: PressureAnswer }) {
  const drunk = answer.points.filter(({ water }) => (water.feral?.rate ?? 0) + (water.stock?.rate ?? 0) > 0)
  if (drunk.length === 0) return null
  const most = [...drunk].sort((a, b) => (b.water.feral?.rate ?? 0) - (a.water.feral?.rate ?? 0))
  return (
    <section aria-labelledby="drunk-head">
      <h2 id="drunk-head">{words.water}</h2>
      <p class="small">
        {words.waterHint} <a href="/setup#ratings">{words.ratings}</a>
      </p>
      <Numbers label={words.water} heads={[words.point, words.byFerals, words.byStock, words.share]}>
        {most.map(({ pointId, name, water }) => (
          <tr key={pointId}>
            <th scope="row">
              <a href={`/points/${pointId}`}>{name}</a>
            </th>
            <td>{rangeWords(water.feral)}</td>
            <td>{rangeWords(water.stock)}</td>
            <td>{shareOf(water)}</td>
          </tr>
        ))}
      </Numbers>
    </section>
  )
}

function shareOf({ feral, stock }: PressurePoint['water']): string {
  const all = (feral?.rate ?? 0) + (stock?.rate ?? 0)
  return all === 0 ? 'none' : `${Math.round((100 * (feral?.rate ?? 0)) / all)} %`
}
