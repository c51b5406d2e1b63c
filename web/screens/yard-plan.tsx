/** A gate plan that was kept, on one page for the people who set the gates: where, when, other water, safety. */
import { useRoute } from 'preact-iso'
import type { GateHoursAnswer, KeptPlan, TrapYardsAnswer } from '../../services/http/trap-yard-shapes.ts'
import { gateHoursQuestion, trapYardsQuestion, withQuery, yardPlanQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { list } from '../text/counts.ts'
import { otherWaterLine, saidTogether } from '../text/other-water.ts'
import { notOwnerless, trapSafety, waterSafety } from '../text/safety.ts'
import { dayName } from '../text/times.ts'
import { yardWords } from '../text/trap-yards.ts'
import { expectedLines, planLine, planWords as words } from '../text/yard-plan.ts'
import { stageWords, stepsLeft } from '../text/yard-training.ts'
import { YardMap } from './trap-yards/map.tsx'
import { SetDays } from './trap-yards/set-days.tsx'

export function YardPlanScreen() {
  const { params, query } = useRoute()
  const asked = useAnswer(yardPlanQuestion(params.id ?? ''))
  const versions = asked.answer?.versions ?? []
  const kept = versions.find(({ version }) => String(version) === query.version) ?? versions[0] ?? null
  const yards = useAnswer(kept === null ? null : trapYardsQuestion(kept.plan.species))
  const failure = asked.failure ?? yards.failure
  return (
    <Screen
      title={kept?.plan.name ?? yardWords.title}
      kind="yard-plan"
      back={{ href: withQuery('/trap-yards', { species: kept?.plan.species }), words: words.back }}
      aside={kept !== null && <Print />}
    >
      {failure !== null && (
        <FailedNotice failure={failure} again={asked.failure ? asked.reload : yards.reload} />
      )}
      {failure === null && (kept === null || yards.answer === null) && <Skeleton shape="row" count={3} />}
      {kept !== null && yards.answer !== null && <Plan kept={kept} yards={yards.answer} />}
      {versions.length > 1 && <Versions versions={versions} shown={kept} />}
    </Screen>
  )
}

function Print() {
  return (
    <div class="button-row outputs">
      <button type="button" class="button" onClick={() => print()}>
        {words.print}
      </button>
    </div>
  )
}

interface PlanProps {
  readonly kept: KeptPlan
  readonly yards: TrapYardsAnswer
}

function Plan({ kept, yards }: PlanProps) {
  const { plan } = kept
  const hours = useAnswer(
    plan.hours === null
      ? null
      : gateHoursQuestion({
          species: plan.species,
          points: plan.pointIds.join(','),
          from: plan.hours.from,
          to: plan.hours.to,
          first: plan.fromNight,
          nights: plan.nights,
        }),
  )
  return (
    <>
      <p class="paper-only">{yards.station}</p>
      {kept.withdrawn && <p class="notice notice-failed">{words.withdrawn}</p>}
      <p>{planLine(yards, kept)}</p>
      {plan.note !== null && <p>{plan.note}</p>}
      <div class="two-columns">
        <div>
          <Points kept={kept} yards={yards} />
          <Expected kept={kept} yards={yards} />
        </div>
        <YardMap answer={yards} set={plan.pointIds} />
      </div>
      {hours.failure !== null && <FailedNotice failure={hours.failure} again={hours.reload} />}
      {plan.hours !== null && hours.answer === null && hours.failure === null && (
        <Skeleton shape="line" count={4} />
      )}
      {hours.answer !== null && <Days told={hours.answer} />}
      <Safety kept={kept} yards={yards} />
    </>
  )
}

function Points({ kept, yards }: PlanProps) {
  const points = yards.points.filter(({ pointId }) => kept.plan.pointIds.includes(pointId))
  return (
    <section aria-labelledby="plan-points">
      <h2 id="plan-points">{words.points}</h2>
      <table class="set-days">
        <thead>
          <tr>
            <th scope="col">{words.point}</th>
            <th scope="col">{words.yard}</th>
            <th scope="col">{words.trainedBy}</th>
          </tr>
        </thead>
        <tbody>
          {points.map((point) => (
            <tr key={point.pointId}>
              <th scope="row">{point.name}</th>
              <td>{point.hasYard ? words.yardStands : words.yardPortable}</td>
              <td>
                {stageWords(point)}. {stepsLeft(point, yards.today)}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

function Expected({ kept, yards }: PlanProps) {
  return (
    <section aria-labelledby="plan-expected">
      <h2 id="plan-expected">{words.expected}</h2>
      {expectedLines(yards, kept).map((line) => (
        <p key={line}>{line}</p>
      ))}
    </section>
  )
}

function Days({ told }: { readonly told: GateHoursAnswer }) {
  return (
    <section>
      <SetDays told={told} />
    </section>
  )
}

function Safety({ kept, yards }: PlanProps) {
  const points = yards.points.filter(({ pointId }) => kept.plan.pointIds.includes(pointId))
  const sure = points.filter(({ otherWater }) => otherWater.state === 'sure')
  const unsure = points.filter((point) => !sure.includes(point))
  return (
    <section aria-labelledby="plan-safety">
      <h2 id="plan-safety">{words.safety}</h2>
      {unsure.length > 0 && (
        <p class="notice notice-failed">{words.notSure(list(unsure.map(({ name }) => name)))}</p>
      )}
      <ul class="plain-list yard-safety">
        <li>{waterSafety}</li>
        {saidTogether(sure).map((of) => (
          <li key={of[0]!.pointId}>{`${words.otherWater}: ${otherWaterLine(yards, of)}.`}</li>
        ))}
        <li>{trapSafety.open}</li>
        <li>{trapSafety.release}</li>
        <li>{notOwnerless}</li>
      </ul>
    </section>
  )
}

interface VersionsProps {
  readonly versions: readonly KeptPlan[]
  readonly shown: KeptPlan | null
}

function Versions({ versions, shown }: VersionsProps) {
  return (
    <nav class="button-row yard-versions" aria-label={words.earlier}>
      {versions.map(({ planId, version, at }) => (
        <a
          class="button"
          href={withQuery(`/trap-yards/plans/${planId}`, { version })}
          aria-current={version === shown?.version ? 'true' : undefined}
          key={version}
        >
          {`${words.version} ${version}, ${dayName(at)}`}
        </a>
      ))}
    </nav>
  )
}
