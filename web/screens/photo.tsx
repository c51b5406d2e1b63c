/** One photo, large, with everything that is known of it and a person's word on it. */

import { useState } from 'preact/hooks'
import { useRoute } from 'preact-iso'
import type { StillAnswer } from '../../services/http/shapes.ts'
import { stillQuestion, withQuery } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { BoxSwitch } from '../parts/box-switch.tsx'
import { CountForm } from '../parts/count-form.tsx'
import { Icon } from '../parts/icon.tsx'
import { FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Photo } from '../parts/photo.tsx'
import { Screen } from '../parts/screen.tsx'
import { Steps } from '../parts/steps.tsx'
import { LEAST_NUMBER, speciesName, tallyWords } from '../text/counts.ts'
import { keepingWords } from '../text/keeping.ts'
import { checkWords, photoWords, timeSources } from '../text/photo.ts'
import { clockOf, dayAndClock, dayName, nightName } from '../text/times.ts'

/** While the photo waits to be read, its count is a moment away. */
const POLL_WAITING_MS = 3_000

export function PhotoScreen() {
  const id = useRoute().params.id ?? ''
  const [waiting, setWaiting] = useState(false)
  const { answer, failure, reload } = useAnswer(stillQuestion(id), waiting ? POLL_WAITING_MS : null)
  const nowWaiting = answer?.still.state === 'received'
  if (nowWaiting !== waiting) setWaiting(nowWaiting)
  const still = answer?.still
  return (
    <Screen
      title={
        still ? `${still.pointName}, ${dayName(still.takenAt)}, ${clockOf(still.takenAt)}` : photoWords.title
      }
      kind="photo"
      back={
        still
          ? {
              href: withQuery(`/points/${still.pointId}`, { night: still.night }),
              words: `${still.pointName}, ${nightName(still.night)}`,
            }
          : { href: '/', words: photoWords.list }
      }
    >
      {answer === null && failure === null && <Skeleton shape="photo" />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && <OnePhoto answer={answer} reload={reload} key={answer.still.id} />}
    </Screen>
  )
}

function OnePhoto({ answer, reload }: { readonly answer: StillAnswer; readonly reload: () => void }) {
  const { still, checks } = answer
  const [zoomed, setZoomed] = useState(false)
  return (
    <>
      <div class={`large-photo ${zoomed ? 'large-photo-zoomed' : ''}`} {...(zoomed ? { tabIndex: 0 } : {})}>
        <Photo still={still} size="full" eager />
      </div>
      <div class="photo-tools">
        <Steps id={still.id} />
        <BoxSwitch />
        <button type="button" class="button" aria-pressed={zoomed} onClick={() => setZoomed(!zoomed)}>
          <Icon name="zoom" />
          {zoomed ? photoWords.zoomOut : photoWords.zoomIn}
        </button>
      </div>
      {still.clockDoubt !== null && (
        <p class="fact fact-look">
          <Icon name="clock" />
          <span>
            {photoWords.clockDoubt}: {still.clockDoubt}. {photoWords.clockDoubtNote}
          </span>
        </p>
      )}
      {still.state === 'unreadable' && (
        <p class="fact fact-look">
          <Icon name="broken" />
          <span>
            {photoWords.unreadable}: {still.reason}
          </span>
        </p>
      )}
      {still.kept !== 'whole' && (
        <p class="fact fact-plain">
          {still.kept === 'none' ? keepingWords.noLongerNote : keepingWords.onlySmall}
        </p>
      )}
      {still.state === 'received' && <p class="fact fact-plain">{photoWords.waiting}</p>}
      {still.state === 'done' && <CountForm still={still} said={reload} />}
      <p class="honesty">{LEAST_NUMBER}</p>
      <div class="two-columns">
        <section aria-labelledby="boxes-head">
          <h2 id="boxes-head">{photoWords.boxes}</h2>
          {still.boxes.length === 0 && <p>{photoWords.noBoxes}</p>}
          <ul class="box-list">
            {still.boxes.map(({ species, score, counted, box }) => (
              <li key={box.join()}>
                <span
                  class={`swatch swatch-${species} ${counted ? '' : 'swatch-unsure'}`}
                  aria-hidden="true"
                />
                {speciesName(species)}, {photoWords.sureness(score)}
                {counted ? '' : `, ${photoWords.notCounted}`}
              </li>
            ))}
          </ul>
          <h2>{photoWords.words}</h2>
          {checks.length === 0 && <p>{photoWords.noWords}</p>}
          <ul class="plain-list">
            {checks.map((check) => (
              <li key={check.id}>{checkWords(check)}</li>
            ))}
          </ul>
        </section>
        <About answer={answer} />
      </div>
    </>
  )
}

function About({ answer: { still } }: { readonly answer: StillAnswer }) {
  return (
    <section aria-labelledby="about-head">
      <h2 id="about-head">{photoWords.about}</h2>
      <dl class="about">
        <dt>{photoWords.taken}</dt>
        <dd>{dayAndClock(still.takenAt)}</dd>
        <dt>{photoWords.takenFrom}</dt>
        <dd>{timeSources[still.takenFrom]}</dd>
        <dt>{photoWords.received}</dt>
        <dd>{dayAndClock(still.receivedAt)}</dd>
        <dt>{photoWords.night}</dt>
        <dd>{nightName(still.night)}</dd>
        <dt>{photoWords.point}</dt>
        <dd>
          <a href={`/points/${still.pointId}`}>{still.pointName}</a>
        </dd>
        <dt>{photoWords.camera}</dt>
        <dd>
          <a href={withQuery('/photos', { camera: still.cameraId })}>{still.cameraName}</a>
        </dd>
        <dt>{photoWords.cameraCount}</dt>
        <dd>{tallyWords(still.machineTally)}</dd>
        {still.width !== null && still.height !== null && (
          <>
            <dt>{photoWords.size}</dt>
            <dd>
              {still.width} × {still.height}
            </dd>
          </>
        )}
      </dl>
      {still.state === 'done' && still.kept === 'whole' && (
        <a class="button" href={still.fullUrl} target="_blank" rel="noopener">
          {photoWords.full}
        </a>
      )}
    </section>
  )
}
