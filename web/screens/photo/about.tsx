/** What is known of a photo beside what is on it. */
import type { StillAnswer } from '../../../services/http/shapes.ts'
import { withQuery } from '../../api/questions.ts'
import { tallyWords } from '../../text/counts.ts'
import { photoWords, timeSources } from '../../text/photo.ts'
import { dayAndClock, nightName } from '../../text/times.ts'

export function About({ still }: Pick<StillAnswer, 'still'>) {
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
