/** When to set the gates of a plan: the hours, the cattle in them, and the days with sun and moon. */
import { useCallback } from 'preact/hooks'
import type { GateHoursAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { gateHoursQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Chart } from '../../parts/chart.tsx'
import { Choice, Field } from '../../parts/field.tsx'
import { type HoursBand, type HoursCurve, hoursChart } from '../../parts/hours-chart.ts'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { hoursChart as hoursChartWords, hoursLines, hoursTitle } from '../../text/gate-hours.ts'
import { clockOfHours } from '../../text/hours.ts'
import { planWords as words } from '../../text/yard-plan.ts'
import type { Draft } from './draft.ts'
import { SetDays } from './set-days.tsx'
import type { DraftProps } from './your-plan.tsx'

const HOURS_A_DAY = 24
const CATTLE_PERCENTS = [0, 2, 5, 10, 20, 30, 50, 100]
const LONGEST = [2, 4, 6, 8, 10, 12, 16, 24]
const HALF_HOURS = Array.from({ length: 2 * HOURS_A_DAY }, (_, i) => i / 2)

/** Null where what is typed is no number of nights: the service would refuse it. */
export function hoursQuestion(species: string, draft: Draft) {
  const nights = Number(draft.nights)
  if (draft.points.length === 0 || draft.first === '' || !Number.isInteger(nights) || nights < 1) return null
  return gateHoursQuestion({
    species,
    points: draft.points.join(','),
    cattleShare: draft.cattlePercent / 100,
    mostHours: draft.mostHours,
    from: draft.chosen?.from,
    to: draft.chosen?.to,
    first: draft.first,
    nights: Math.min(nights, MOST_NIGHTS),
  })
}
const MOST_NIGHTS = 60

export function Hours({ answer, draft, change }: DraftProps) {
  const question = hoursQuestion(answer.species, draft)
  const asked = useAnswer(question)
  return (
    <section class="hours" aria-labelledby="when-head">
      <h2 id="when-head">{words.when}</h2>
      <HourChoices draft={draft} change={change} worked={asked.answer} />
      {asked.failure !== null && <FailedNotice failure={asked.failure} again={asked.reload} />}
      {question === null && <p>{words.noDays}</p>}
      {question !== null && asked.answer === null && asked.failure === null && (
        <Skeleton shape="photo" count={1} />
      )}
      {asked.answer !== null && <Told told={asked.answer} />}
    </section>
  )
}

/** A plan that was kept over the API may have another. */
const percentsWith = (percent: number) => [...new Set([...CATTLE_PERCENTS, percent])].sort((a, b) => a - b)

const WORKED_OUT = 'worked out'

interface ChoicesProps extends Pick<DraftProps, 'draft' | 'change'> {
  readonly worked: GateHoursAnswer | null
}

function HourChoices({ draft, change, worked }: ChoicesProps) {
  const now = worked?.answer.kind === 'window' ? worked.answer : { from: 20, to: 6 }
  const choose = (end: 'from' | 'to') => (value: string) =>
    change({
      chosen:
        value === WORKED_OUT ? null : { from: now.from, to: now.to, ...draft.chosen, [end]: Number(value) },
    })
  const clocks = [
    { value: WORKED_OUT, words: words.workedOut },
    ...HALF_HOURS.map((hour) => ({ value: String(hour), words: clockOfHours(hour) })),
  ]
  const chosen = (end: 'from' | 'to') => (draft.chosen === null ? WORKED_OUT : String(draft.chosen[end]))
  return (
    <div class="hours-choices">
      <Choice
        label={words.cattle}
        name="cattlePercent"
        value={String(draft.cattlePercent)}
        choices={percentsWith(draft.cattlePercent).map((percent) => ({
          value: String(percent),
          words: percent === 100 ? words.anyCattle : words.atMost(percent),
        }))}
        change={(percent) => change({ cattlePercent: Number(percent), chosen: null })}
      />
      <Choice
        label={words.longest}
        name="mostHours"
        value={String(draft.mostHours)}
        choices={LONGEST.map((hours) => ({ value: String(hours), words: words.hoursLong(hours) }))}
        change={(hours) => change({ mostHours: Number(hours), chosen: null })}
      />
      <Choice
        label={words.setAt}
        name="from"
        value={chosen('from')}
        choices={clocks}
        change={choose('from')}
      />
      <Choice label={words.shutAt} name="to" value={chosen('to')} choices={clocks} change={choose('to')} />
      <Field
        label={words.first}
        name="first"
        value={draft.first}
        change={(first) => change({ first })}
        kind="date"
      />
      <Field
        label={words.nights}
        name="nights"
        value={draft.nights}
        change={(nights) => change({ nights })}
        kind="number"
      />
    </div>
  )
}

function Told({ told }: { readonly told: GateHoursAnswer }) {
  const lines = hoursLines(told)
  const draw = useCallback<Parameters<typeof Chart>[0]['draw']>(
    (plot) => hoursChart(plot, { curves: curvesOf(told), bands: setHours(told), bandOpacity: 0.12 }),
    [told],
  )
  return (
    <>
      {told.answer.kind === 'window' && (
        <p>
          <strong>{hoursTitle(told)}</strong> {told.byHand && words.byHand}
        </p>
      )}
      {lines.map((line) => (
        <p key={line}>{line}</p>
      ))}
      {told.curves.target !== null && <Chart label={hoursChartWords(told)} draw={draw} />}
      {told.days.length > 0 && <SetDays told={told} />}
    </>
  )
}

function curvesOf({ species, curves }: GateHoursAnswer): HoursCurve[] {
  return [
    { species, shares: curves.target },
    ...(species === 'cattle' ? [] : [{ species: 'cattle', shares: curves.cattle }]),
  ]
}

function setHours({ answer }: GateHoursAnswer): HoursBand[] {
  if (answer.kind !== 'window') return []
  const { from, to } = answer
  return from < to
    ? [{ from, to }]
    : [
        { from: 0, to },
        { from, to: HOURS_A_DAY },
      ]
}
