/** Water run: opens first, answers "is all well?" in ten seconds, every point in run order. */

import { useState } from 'preact/hooks'
import { useRoute } from 'preact-iso'
import type { WaterRunAnswer } from '../../services/http/shapes.ts'
import { useReloadOnChange } from '../api/changes.ts'
import { waterRunQuestion, withQuery } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { Icon } from '../parts/icon.tsx'
import { JobsBlock } from '../parts/jobs-block.tsx'
import { NightPicker } from '../parts/night-picker.tsx'
import { EmptyNotice, FailedNotice, Skeleton, Spoken } from '../parts/notice.tsx'
import { PointRow } from '../parts/point-row.tsx'
import { ProgressStrip } from '../parts/progress-strip.tsx'
import { RoomNotice } from '../parts/room-notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { LEAST_NUMBER } from '../text/counts.ts'
import { failureWords } from '../text/failures.ts'
import { headLine, nightSpan, troublesOf, waterNotSeenLine, waterRunWords } from '../text/water-run.ts'
import { yardWords } from '../text/yard.ts'

/** Often while photos are coming in, seldom while nothing happens. */
const POLL_BUSY_MS = 4_000
const POLL_QUIET_MS = 20_000
/** Troubles named in the head; the rest stand in their rows. */
const TROUBLES_NAMED = 5

export function WaterRunScreen() {
  const night = useRoute().query.night ?? null
  const [busy, setBusy] = useState(true)
  const { answer, failure, reload } = useAnswer(waterRunQuestion(night), busy ? POLL_BUSY_MS : POLL_QUIET_MS)
  useReloadOnChange(reload)
  const [said, setSaid] = useState('')
  const stillBusy = answer === null || answer.progress.making !== null || answer.progress.waiting > 0
  if (stillBusy !== busy) setBusy(stillBusy)
  const saidWater = (words: string) => {
    setSaid(words)
    reload()
  }
  return (
    <Screen
      title={waterRunWords.title}
      kind="water-run"
      aside={
        <a class="button" href="/yard">
          <Icon name="trap" />
          {yardWords.link}
        </a>
      }
    >
      {answer === null && failure === null && <Skeleton shape="row" count={6} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && failure !== null && <p class="stale">{failureWords.stale}</p>}
      {answer !== null && (
        <>
          <RoomNotice room={answer.room} />
          <Head answer={answer} />
          <JobsBlock />
          <Spoken words={said} />
          <ul class="point-rows">
            {answer.rows.map((row) => (
              <PointRow row={row} now={answer.now} night={answer.night} said={saidWater} key={row.point.id} />
            ))}
          </ul>
          {answer.rows.length === 0 && <EmptyNotice words={waterRunWords.noPoints} href="/setup#points" />}
          {answer.rows.length > 0 && <p class="honesty">{LEAST_NUMBER}</p>}
        </>
      )}
    </Screen>
  )
}

function Head({ answer }: { readonly answer: WaterRunAnswer }) {
  const running = Date.parse(answer.now) < Date.parse(answer.nightTo)
  const troubles = troublesOf(answer)
  const notSeen = waterNotSeenLine(answer)
  return (
    <>
      <NightPicker
        night={answer.night}
        hasLater={!running}
        href={(night) => withQuery('/', { night })}
        note={nightSpan(answer)}
      />
      {answer.rows.length > 0 && (
        <section
          class={`morning ${troubles.length === 0 ? 'morning-well' : 'morning-look'}`}
          aria-labelledby="morning"
        >
          <h2 id="morning">{headLine(answer)}</h2>
          {troubles.length > 0 && (
            <ul class="troubles">
              {troubles.slice(0, TROUBLES_NAMED).map((trouble) => (
                <li key={trouble.words}>
                  <a class={`trouble trouble-${trouble.tone}`} href={`/points/${trouble.pointIds[0]}`}>
                    <Icon name="alarm" />
                    <span>{trouble.words}</span>
                  </a>
                </li>
              ))}
            </ul>
          )}
          {notSeen !== null && (
            <p class="not-seen">
              <Icon name="dropUnknown" />
              <span>{notSeen}</span>
            </p>
          )}
        </section>
      )}
      <ProgressStrip progress={answer.progress} />
    </>
  )
}
