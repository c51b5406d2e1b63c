/** A point's page: how it stands now, its last day by hour, its nights, and the photos behind each number. */

import { useState } from 'preact/hooks'
import { useRoute } from 'preact-iso'
import type { PointAnswer } from '../../services/http/shapes.ts'
import { useReloadOnChange } from '../api/changes.ts'
import { dayQuestion, healthQuestion, pointQuestion, withQuery } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { CattleAlarm } from '../parts/cattle-alarm.tsx'
import { FactChip } from '../parts/fact.tsx'
import { EmptyNotice, FailedNotice, Skeleton, Spoken } from '../parts/notice.tsx'
import { ProgressStrip } from '../parts/progress-strip.tsx'
import { Screen } from '../parts/screen.tsx'
import { WATER_ICONS, WaterButtons } from '../parts/water-buttons.tsx'
import { camerasWords } from '../text/cameras.ts'
import { LEAST_NUMBER, plural } from '../text/counts.ts'
import { pointLine, stateWords, pointWords as words } from '../text/point.ts'
import { age, dayAndClock } from '../text/times.ts'
import { trapFact } from '../text/traps.ts'
import { cameraFact, cattleFact, waterFact } from '../text/water-run.ts'
import { FilmStrip } from './point/film-strip.tsx'
import { Nights } from './point/nights.tsx'
import { PastCounts } from './point/past-counts.tsx'
import { OtherStates, TrapButtons } from './point/trap.tsx'

const POLL_MS = 20_000
const STATES_SHOWN = 8

export function PointScreen() {
  const { params, query } = useRoute()
  const id = params.id ?? ''
  const { answer, failure, reload } = useAnswer(pointQuestion(id), POLL_MS)
  const day = useAnswer(dayQuestion(id), POLL_MS)
  useReloadOnChange(
    () => {
      reload()
      day.reload()
    },
    ({ pointIds }) => pointIds?.includes(Number(id)) ?? true,
  )
  // While photos wait to be read the bars below are not the last word.
  const { answer: health } = useAnswer(healthQuestion, POLL_MS)
  return (
    <Screen
      title={answer?.point.name ?? words.point}
      kind="point"
      back={{ href: '/', words: words.back }}
      key={id}
    >
      {answer === null && failure === null && <Skeleton shape="row" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && (
        <>
          <p class="point-line">{pointLine(answer.point)}</p>
          <Standing answer={answer} now={day.answer?.until ?? browserNow()} reload={reload} />
          <section aria-labelledby="day-head">
            <h2 id="day-head">{words.lastDay}</h2>
            {day.answer === null && day.failure === null && <Skeleton shape="photo" count={1} />}
            {day.failure !== null && <FailedNotice failure={day.failure} again={day.reload} />}
            {day.answer !== null && <FilmStrip day={day.answer} />}
          </section>
          {health !== null && <ProgressStrip progress={health.progress} />}
          <Nights id={id} chosen={query.night ?? null} latest={day.answer?.until ?? null} />
          <p class="honesty">{LEAST_NUMBER}</p>
          <PastCounts id={id} />
          <div class="two-columns">
            <CamerasHere answer={answer} now={day.answer?.until ?? null} />
            <History answer={answer} />
          </div>
        </>
      )}
    </Screen>
  )
}

/** Until the service's own "now" (the end of its last day) is here, ages are told by this phone's clock. */
function browserNow(): string {
  return new Date().toISOString()
}

interface StandingProps {
  readonly answer: PointAnswer
  readonly now: string
  readonly reload: () => void
}

/** The state now: camera, cattle and water as chips, then the buttons that change what people say of the point. */
function Standing({ answer, now, reload }: StandingProps) {
  const [spoken, setSpoken] = useState('')
  const { row, point } = answer
  const said = (what: string) => {
    setSpoken(words.saved(what))
    reload()
  }
  return (
    <section class="standing" aria-label={words.now}>
      <div class="facts">
        <FactChip fact={waterFact(row.water, now)} icon={WATER_ICONS[row.water.state]} />
        <FactChip fact={cameraFact(row, now)} icon={row.camera === 'watching' ? 'camera' : 'cameraDown'} />
        <FactChip
          fact={cattleFact(row.cattle, now)}
          icon="cattle"
          {...(row.cattle.stillId === null ? {} : { href: `/photos/${row.cattle.stillId}` })}
        />
        {row.toCheck > 0 && (
          <FactChip
            fact={{ tone: 'plain', words: `${plural(row.toCheck, 'photo')} to check` }}
            icon="check"
            href="/check"
          />
        )}
        {row.trap !== null && <FactChip fact={trapFact(row.trap, now)} icon="trap" />}
      </div>
      <CattleAlarm point={point} cattle={row.cattle} now={now} said={said} />
      <WaterButtons pointId={point.id} pointName={point.name} state={row.water.state} said={said} />
      {(point.hasYard || (row.trap !== null && row.trap.state !== 'shut down')) && (
        <TrapButtons point={point} trap={row.trap} said={said} />
      )}
      <OtherStates point={point} said={said} />
      <Spoken words={spoken} />
    </section>
  )
}

function CamerasHere({ answer, now }: { readonly answer: PointAnswer; readonly now: string | null }) {
  return (
    <section aria-labelledby="cameras-head">
      <h2 id="cameras-head">{words.cameras}</h2>
      {answer.cameras.length === 0 && <EmptyNotice words={words.noCameras} href="/setup#cameras" />}
      <ul class="plain-list">
        {answer.cameras.map((camera) => (
          <li key={camera.id}>
            <FactChip
              fact={{
                tone: camera.down ? 'alarm' : camera.lastContactAt === null ? 'unknown' : 'well',
                words: words.cameraState(camera.name, camera.down, camera.lastContactAt !== null),
              }}
              icon={camera.down ? 'cameraDown' : 'camera'}
            />
            <p class="small">
              {camera.lastContactAt !== null &&
                now !== null &&
                `${words.lastWord} ${age(camera.lastContactAt, now)}, `}
              <a href={withQuery('/photos', { camera: camera.id })}>{plural(camera.photos, 'photo')}</a>
              {camera.unreadable > 0 && (
                <>
                  {', '}
                  <a href={withQuery('/photos', { camera: camera.id, state: 'unreadable' })}>
                    {words.unreadable(camera.unreadable)}
                  </a>
                </>
              )}
              {!camera.sendsHeartbeats && `. ${words.quietOrDown}`}
            </p>
            <a class="button card-link" href={withQuery('/card', { camera: camera.id })}>
              {words.putInCard}
            </a>
          </li>
        ))}
      </ul>
      {answer.cameras.length > 0 && (
        <a class="button" href="/cameras">
          {camerasWords.open}
        </a>
      )}
    </section>
  )
}

function History({ answer }: { readonly answer: PointAnswer }) {
  return (
    <section aria-labelledby="history-head">
      <h2 id="history-head">{words.history}</h2>
      {answer.states.length === 0 && <p>{words.noHistory}</p>}
      <ul class="plain-list">
        {answer.states.slice(0, STATES_SHOWN).map((state) => (
          <li key={state.id}>
            {stateWords(state)} <span class="small">{dayAndClock(state.at)}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}
