/** When to set the gates of a plan: the hours, the cattle in them, and the days with sun and moon. */
import { useCallback } from 'preact/hooks'
import type { GateHoursAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { gateHoursQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Chart } from '../../parts/chart.tsx'
import { Choice, Field } from '../../parts/field.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { hoursChart, hoursLines, hoursTitle } from '../../text/gate-hours.ts'
import { clockOfHours } from '../../text/hours.ts'
import { planWords as words } from '../../text/yard-plan.ts'
import type { Draft } from './draft.ts'
import { SetDays } from './set-days.tsx'
import type { DraftProps } from './your-plan.tsx'

const HOURS_A_DAY = 24
const TICKS = [0, 3, 6, 9, 12, 15, 18, 21, 24]
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
    (plot) => ({
      marginBottom: 38,
      x: { domain: [0, HOURS_A_DAY], ticks: TICKS, label: 'hour of the day', labelAnchor: 'center' },
      y: { label: 'per cent of visits an hour', grid: true, zero: true },
      marks: [
        plot.rectX(setHours(told), { x1: 'from', x2: 'to', fill: 'currentColor', fillOpacity: 0.12 }),
        plot.ruleY([0]),
        ...curvesOf(told).map(({ species, points }, i) =>
          plot.line(points, {
            x: 'hour',
            y: 'percent',
            stroke: `var(--${species})`,
            strokeWidth: 2.5,
            // Told apart without colour too.
            strokeDasharray: i === 0 ? '1 0' : '7 4',
          }),
        ),
        plot.text(
          curvesOf(told).flatMap(({ points }) => topOf(points)),
          { x: 'hour', y: 'percent', text: 'species', dy: -8, fill: 'currentColor', fontWeight: 600 },
        ),
      ],
    }),
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
      {told.curves.target !== null && <Chart label={hoursChart(told)} draw={draw} />}
      {told.days.length > 0 && <SetDays told={told} />}
    </>
  )
}

interface Drawn {
  readonly species: string
  readonly hour: number
  readonly percent: number
}

function curvesOf({ species, curves }: GateHoursAnswer) {
  const pointsOf = (of: string, shares: readonly number[] | null): readonly Drawn[] =>
    shares === null
      ? []
      : // Midnight again at the end, so that the line closes.
        [...shares, shares[0]!].map((share, step) => ({
          species: of,
          hour: (step * HOURS_A_DAY) / shares.length,
          percent: share * 100,
        }))
  return [
    { species, points: pointsOf(species, curves.target) },
    ...(species === 'cattle' ? [] : [{ species: 'cattle', points: pointsOf('cattle', curves.cattle) }]),
  ]
}

const topOf = (points: readonly Drawn[]) => [...points].sort((a, b) => b.percent - a.percent).slice(0, 1)

function setHours({ answer }: GateHoursAnswer): { from: number; to: number }[] {
  if (answer.kind !== 'window') return []
  const { from, to } = answer
  return from < to
    ? [{ from, to }]
    : [
        { from: 0, to },
        { from, to: HOURS_A_DAY },
      ]
}
