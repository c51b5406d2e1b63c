/** One point's days, loads and hours. */
import type { MusterAnswerShape, MusterStepShape } from '../../../services/http/muster-shapes.ts'
import { withQuery } from '../../api/questions.ts'
import {
  daysWords,
  headWords,
  loadsWords,
  offWaterWords,
  musterWords as words,
  yardWords,
} from '../../text/muster.ts'
import { told } from '../../text/pressure.ts'
import { nameOf, pointFigures } from './save-figures.ts'

interface StepFactsProps {
  readonly answer: MusterAnswerShape
  readonly step: MusterStepShape
}

export function StepFacts({ answer, step }: StepFactsProps) {
  const firstDay = answer.plan.latestStart?.high ?? null
  const { facts } = words
  const own = pointFigures(answer, step.pointId)
  return (
    <>
      <dl class="muster-facts">
        <Fact name={facts.head}>
          <Head answer={answer} step={step} byHand={own?.head != null} />
        </Fact>
        <Fact name={facts.yard}>{yardWords(step, firstDay)}</Fact>
        <Fact name={facts.camp}>{daysWords({ from: step.set.from, to: step.muster.to }, firstDay)}</Fact>
        <Fact name={facts.muster}>{daysWords(step.muster, firstDay)}</Fact>
        <Fact name={facts.loads}>{loadsWords(step)}</Fact>
        <Fact name={facts.trucks}>{daysWords(step.trucks, firstDay)}</Fact>
        <Fact name={facts.hours}>
          {told(step.hoursALoad)} <small>{words.eachWay(step.km)}</small>
        </Fact>
        <Fact name={facts.offWater}>{offWaterWords(step)}</Fact>
        <Fact name={facts.left}>{headWords(step.leftBehind)}</Fact>
      </dl>
      {step.overMostHours && <p class="wrong">{words.tooLong(answer.figures.mostHoursOffWater!)}</p>}
      {step.tooLongADay && (
        <p class="wrong">{words.tooManyLoads(answer.figures.means.loadsADay, step.hoursALoad)}</p>
      )}
      {own?.note != null && <p class="small">{own.note}</p>}
    </>
  )
}

function Fact({ name, children }: { readonly name: string; readonly children: preact.ComponentChildren }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

/** Opens the photos that the count was made from. */
function Head({ answer, step, byHand }: StepFactsProps & { readonly byHand: boolean }) {
  if (byHand)
    return (
      <>
        {headWords(step.head)} <small>{words.byHand}</small>
      </>
    )
  const { from, to } = answer
  const href = withQuery('/photos', { point: step.pointId, species: 'cattle', from, to })
  return (
    <a href={href} aria-label={`${words.photos(nameOf(answer, step.pointId))}: ${headWords(step.head)}`}>
      {headWords(step.head)}
    </a>
  )
}
