/** Found against truly so, a dot for each mark; the one chosen stands out. The same stands in a table below. */
import { useState } from 'preact/hooks'
import type { Species } from '../../../services/words.ts'
import { Fold } from '../../parts/fold.tsx'
import { Numbers } from '../../parts/numbers.tsx'
import { chartX, chartY, ShareChart } from '../../parts/share-chart.tsx'
import { howRightWords } from '../../text/how-right.ts'
import { percent } from '../../text/shares.ts'
import type { Step } from './marks-desk.ts'

const words = howRightWords.marks

interface MarkChartProps {
  readonly species: Species
  readonly steps: readonly Step[]
  readonly chosen: number
}

export function MarkChart({ species, steps, chosen }: MarkChartProps) {
  const [open, setOpen] = useState(false)
  const told = steps.flatMap(({ mark, recall, precision }) =>
    recall === null || precision === null ? [] : [{ mark, x: chartX(recall), y: chartY(precision) }],
  )
  const at = told.find(({ mark }) => mark === chosen)
  const share = (value: number | null) => (value === null ? '–' : percent(value))
  return (
    <>
      <ShareChart title={words.chart(species)} across={words.found} up={words.right}>
        <polyline class="chart-line" points={told.map(({ x, y }) => `${x},${y}`).join(' ')} />
        {told.map(({ mark, x, y }) => (
          <circle class="chart-dot" cx={x} cy={y} r="3" key={mark} />
        ))}
        {at !== undefined && (
          <>
            <circle class="chart-chosen" cx={at.x} cy={at.y} r="7" />
            <text
              class="chart-words chart-strong"
              x={at.x - 12}
              y={Math.min(chartY(0) - 6, at.y + 20)}
              text-anchor={at.x < chartX(0.2) ? 'start' : 'end'}
            >
              {percent(at.mark)}
            </text>
          </>
        )}
      </ShareChart>
      <Fold head={<span>{words.table}</span>} open={open} turned={setOpen}>
        <Numbers label={words.chart(species)} heads={[words.mark, words.found, words.right]}>
          {steps.map(({ mark, recall, precision }) => (
            <tr key={mark} {...(mark === chosen ? { 'aria-current': 'true' } : {})}>
              <th scope="row">{percent(mark)}</th>
              <td class="number">{share(recall)}</td>
              <td class="number">{share(precision)}</td>
            </tr>
          ))}
        </Numbers>
      </Fold>
    </>
  )
}
