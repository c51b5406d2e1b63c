/** How each camera is: which one is silent or can't see, why, and since when; each opens its photos. */
import type { CameraWatch } from '../../services/http/camera-shapes.ts'
import { cameraWatchQuestion, withQuery } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { FactChip } from '../parts/fact.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import {
  batteryWords,
  cardWords,
  clockDoubtWords,
  inOrderOfTrouble,
  stateFact,
  unreadableWords,
  camerasWords as words,
} from '../text/cameras.ts'
import { age } from '../text/times.ts'
import { Troubles } from './cameras/troubles.tsx'

const POLL_MS = 60_000

export function CamerasScreen() {
  const { answer, failure, reload } = useAnswer(cameraWatchQuestion, POLL_MS)
  return (
    <Screen title={words.title} kind="cameras" back={{ href: '/setup#cameras', words: words.back }}>
      {answer === null && failure === null && <Skeleton shape="row" count={5} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer?.cameras.length === 0 && <EmptyNotice words={words.none} href="/setup#cameras" />}
      {answer !== null && answer.cameras.length > 0 && <p class="lead">{words.hint}</p>}
      <ul class="cameras">
        {answer !== null &&
          inOrderOfTrouble(answer.cameras).map((one) => (
            <OneCamera one={one} now={answer.now} changed={reload} key={one.camera.id} />
          ))}
      </ul>
    </Screen>
  )
}

interface OneCameraProps {
  readonly one: CameraWatch
  readonly now: string
  readonly changed: () => void
}

function OneCamera({ one, now, changed }: OneCameraProps) {
  const { camera, lastPhoto } = one
  const photos = (filters: Record<string, string>) => withQuery('/photos', { camera: camera.id, ...filters })
  const seen = one.state === 'watching' || one.state === 'taken down'
  return (
    <li class="camera-card">
      <div class="camera-head">
        {lastPhoto !== null && (
          <a href={`/photos/${lastPhoto.stillId}`} class="camera-picture">
            <img
              src={lastPhoto.smallUrl}
              alt={words.latest(camera.name)}
              width="16"
              height="9"
              loading="lazy"
              decoding="async"
            />
          </a>
        )}
        <div>
          <h2>{camera.name}</h2>
          <a class="plain-link" href={`/points/${camera.pointId}`}>
            {one.pointName}
          </a>
          <FactChip fact={stateFact(one, now)} icon={seen ? 'camera' : 'cameraDown'} />
        </div>
      </div>
      <dl class="about camera-facts">
        <dt>{words.lastWord}</dt>
        <dd>{camera.lastContactAt === null ? words.never : age(camera.lastContactAt, now)}</dd>
        <dt>{words.battery}</dt>
        <dd>{batteryWords(one.battery, now)}</dd>
        <dt>{words.card}</dt>
        <dd>{cardWords(one.cardRoom, now)}</dd>
        <dt>{words.photosADay}</dt>
        <dd>{one.photosADay.toLocaleString('en-AU')}</dd>
        <dt>{words.unreadable}</dt>
        <dd class={one.unreadable.rise ? 'asks' : ''}>
          {one.unreadable.files === 0 ? (
            unreadableWords(one.unreadable)
          ) : (
            <a class="plain-link" href={photos({ state: 'unreadable' })}>
              {unreadableWords(one.unreadable)}
            </a>
          )}
        </dd>
        <dt>{words.clock}</dt>
        <dd class={one.clock.inDoubt > 0 ? 'asks' : ''}>
          {one.clock.stillId === null ? (
            clockDoubtWords(one.clock)
          ) : (
            <a class="plain-link" href={`/photos/${one.clock.stillId}`}>
              {clockDoubtWords(one.clock)}
            </a>
          )}
        </dd>
      </dl>
      <Troubles cameraId={camera.id} troubles={one.troubles} changed={changed} />
      <div class="button-row">
        <a class="button" href={photos({})}>
          {words.photos}
        </a>
      </div>
    </li>
  )
}
