/** Is it as right as it is sure? How often photos scored so much were truly so, with the range of each. */
import { useState } from 'preact/hooks'
import type { ModelEvidenceOfOne } from '../../../services/http/evidence-shapes.ts'
import { Fold } from '../../parts/fold.tsx'
import { Numbers } from '../../parts/numbers.tsx'
import { chartX, chartY, ShareChart } from '../../parts/share-chart.tsx'
import { howRightWords } from '../../text/how-right.ts'
import { percent, range } from '../../text/shares.ts'

const words = howRightWords.models

export function Reliability({
  of: { reliability, brier },
}: {
  readonly of: Pick<ModelEvidenceOfOne, 'reliability' | 'brier'>
}) {
  const [open, setOpen] = useState(false)
  if (reliability.length === 0) return null
  return (
    <>
      <h4>{words.reliability}</h4>
      <p class="hint">{words.reliabilityHint}</p>
      <ShareChart title={words.reliability} across={words.sure} up={words.right}>
        <line class="chart-ideal" x1={chartX(0)} y1={chartY(0)} x2={chartX(1)} y2={chartY(1)} />
        {reliability.map(({ from, meanScore, observed }) => (
          <g key={from}>
            <line
              class="chart-limits"
              x1={chartX(meanScore)}
              x2={chartX(meanScore)}
              y1={chartY(observed.low)}
              y2={chartY(observed.high)}
            />
            <circle class="chart-chosen" cx={chartX(meanScore)} cy={chartY(observed.share)} r="5" />
          </g>
        ))}
      </ShareChart>
      {brier !== null && <p>{words.brier(brier)}</p>}
      <Fold head={<span>{howRightWords.marks.table}</span>} open={open} turned={setOpen}>
        <Numbers label={words.reliability} heads={[words.sure, words.photos, words.right]}>
          {reliability.map(({ from, count, meanScore, observed }) => (
            <tr key={from}>
              <th scope="row">{percent(meanScore)}</th>
              <td class="number">{count}</td>
              <td>
                {percent(observed.share)} <small>{range(observed)}</small>
              </td>
            </tr>
          ))}
        </Numbers>
      </Fold>
    </>
  )
}
