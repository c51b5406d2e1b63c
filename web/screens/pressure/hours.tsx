/** Activity curves of a point: when one species comes, and how far another comes at the same hours. */
import { useCallback, useState } from 'preact/hooks'
import type { PressureAnswer, WhenTheyComeAnswer } from '../../../services/http/pressure-shapes.ts'
import { SPECIES, type Species } from '../../../services/words.ts'
import { whenTheyComeQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Chart } from '../../parts/chart.tsx'
import { Choice } from '../../parts/field.tsx'
import { type HoursBand, hoursChart } from '../../parts/hours-chart.ts'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { speciesName } from '../../text/counts.ts'
import { behindWords, curveWords, type HoursAs, overlapWords } from '../../text/hours.ts'
import { pressureWords as words } from '../../text/pressure.ts'

const HOURS_A_DAY = 24

interface HoursProps {
  readonly answer: PressureAnswer
  readonly chosen: Species
}

export function Hours({ answer, chosen }: HoursProps) {
  const most = answer.rows
    .filter((row) => row.species === chosen)
    .sort((a, b) => b.visits + b.fourWeeks.visits - a.visits - a.fourWeeks.visits)[0]
  const [pointId, setPointId] = useState<string | null>(null)
  const [other, setOther] = useState<Species | 'none'>('cattle')
  const [as, setAs] = useState<HoursAs>('clock')
  const point = pointId ?? String(most?.pointId ?? answer.points[0]!.pointId)
  const beside = other === 'none' || other === chosen ? null : other
  const asked = useAnswer(whenTheyComeQuestion({ point, species: chosen, other: beside, to: answer.to }))
  return (
    <section class="hours" aria-labelledby="hours-head">
      <h2 id="hours-head">{words.hours}</h2>
      <div class="hours-choices">
        <Choice
          label={words.hoursPoint}
          name="hours-point"
          value={point}
          choices={answer.points.map(({ pointId: id, name }) => ({ value: String(id), words: name }))}
          change={setPointId}
        />
        <Choice
          label={words.hoursOther}
          name="hours-other"
          value={other}
          choices={[
            { value: 'none', words: words.nobody },
            ...SPECIES.map((value) => ({ value, words: speciesName(value) })),
          ]}
          change={setOther}
        />
        <Choice
          label={words.hoursAs}
          name="hours-as"
          value={as}
          choices={[
            { value: 'clock', words: words.onClock },
            { value: 'sun', words: words.bySun },
          ]}
          change={setAs}
        />
      </div>
      {asked.failure !== null && <FailedNotice failure={asked.failure} again={asked.reload} />}
      {asked.answer === null && asked.failure === null && <Skeleton shape="photo" count={1} />}
      {asked.answer !== null && <Curves told={asked.answer} as={as} />}
    </section>
  )
}

function Curves({ told, as }: { readonly told: WhenTheyComeAnswer; readonly as: HoursAs }) {
  const curves = [{ species: told.species, curve: told.curve }, ...(told.other === null ? [] : [told.other])]
  const lines = curves.map(({ species, curve }) => curveWords(species, curve, as))
  const overlap = overlapWords(told)
  const isDrawn = curves.some(({ curve }) => curve[as] !== null)
  const draw = useCallback<Parameters<typeof Chart>[0]['draw']>(
    (plot) =>
      hoursChart(plot, {
        curves: curves.map(({ species, curve }) => ({ species, shares: curve[as] })),
        bands: nightsOf(told),
        bandOpacity: 0.08,
      }),
    [told, as],
  )
  return (
    <>
      {isDrawn && <Chart label={lines.join(' ')} draw={draw} />}
      {lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {overlap !== null && <p>{overlap}</p>}
      <p class="small">{behindWords(told)}</p>
    </>
  )
}

function nightsOf({ sunrise, sunset }: WhenTheyComeAnswer): HoursBand[] {
  if (sunrise === null || sunset === null) return []
  return [
    { from: 0, to: sunrise },
    { from: sunset, to: HOURS_A_DAY },
  ]
}
