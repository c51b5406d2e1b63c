/** One photo, large, with everything that is known of it and a person's word on it. */

import { useState } from 'preact/hooks'
import { useRoute } from 'preact-iso'
import type { StillAnswer } from '../../services/http/shapes.ts'
import type { Species } from '../../services/words.ts'
import { stillQuestion, withQuery } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { sayWords } from '../api/words-out.ts'
import { BoxSwitch } from '../parts/box-switch.tsx'
import { CountForm } from '../parts/count-form.tsx'
import { Icon } from '../parts/icon.tsx'
import { FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Photo } from '../parts/photo.tsx'
import { Screen } from '../parts/screen.tsx'
import { Steps } from '../parts/steps.tsx'
import { LEAST_NUMBER } from '../text/counts.ts'
import { keepingWords } from '../text/keeping.ts'
import { checkWords, photoWords } from '../text/photo.ts'
import { clockOf, dayName, nightName } from '../text/times.ts'
import { LinkNotice } from './check/link-notice.tsx'
import { About } from './photo/about.tsx'
import { BoxList } from './photo/box-list.tsx'
import { DrawBox, DrawingSpecies } from './photo/draw-box.tsx'
import { likelySpecies, withBox, withoutBox } from './photo/drawn.ts'
import { MarksFold } from './photo/marks-fold.tsx'
import { NeedsTrip } from './photo/needs-trip.tsx'
import { TimeFold } from './photo/time-fold.tsx'
import { useStillNow } from './photo/use-still-now.ts'

/** While the photo waits to be read, its count is a moment away. */
const POLL_WAITING_MS = 3_000

export function PhotoScreen() {
  const id = useRoute().params.id ?? ''
  const [waiting, setWaiting] = useState(false)
  const { answer, failure, askedAt, reload } = useAnswer(stillQuestion(id), waiting ? POLL_WAITING_MS : null)
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
      {answer !== null && (
        <OnePhoto answer={answer} askedAt={askedAt} reload={reload} key={answer.still.id} />
      )}
    </Screen>
  )
}

interface OnePhotoProps {
  readonly answer: StillAnswer
  readonly askedAt: number | null
  readonly reload: () => void
}

function OnePhoto({ answer, askedAt, reload }: OnePhotoProps) {
  const { checks } = answer
  const still = useStillNow(answer.still, { askedAt, reload })
  const [zoomed, setZoomed] = useState(false)
  const [drawing, setDrawing] = useState<Species | null>(null)
  const canDraw = still.state === 'done' && still.kept === 'whole'
  return (
    <>
      <LinkNotice />
      <div class={`large-photo ${zoomed ? 'large-photo-zoomed' : ''}`} {...(zoomed ? { tabIndex: 0 } : {})}>
        <DrawBox
          still={still}
          species={drawing}
          drawn={(box) => sayWords([withBox(still, box)])}
          done={() => setDrawing(null)}
        >
          <Photo still={still} size="full" eager drawn={still.word?.boxes ?? []} />
        </DrawBox>
      </div>
      <div class="photo-tools">
        <Steps id={still.id} />
        <BoxSwitch />
        <button type="button" class="button" aria-pressed={zoomed} onClick={() => setZoomed(!zoomed)}>
          <Icon name="zoom" />
          {zoomed ? photoWords.zoomOut : photoWords.zoomIn}
        </button>
        {canDraw && (
          <button
            type="button"
            class="button"
            aria-pressed={drawing !== null}
            onClick={() => setDrawing(drawing === null ? likelySpecies(still) : null)}
          >
            <Icon name="draw" />
            {photoWords.draw}
          </button>
        )}
      </div>
      {drawing !== null && <DrawingSpecies species={drawing} choose={setDrawing} />}
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
      {still.state === 'done' && (
        <>
          <CountForm still={still} say={(word) => sayWords([word])} />
          <MarksFold still={still} />
        </>
      )}
      <TimeFold still={still} reload={reload} />
      <NeedsTrip stillId={still.id} />
      <p class="honesty">{LEAST_NUMBER}</p>
      <div class="two-columns">
        <div>
          <BoxList still={still} remove={(at) => sayWords([withoutBox(still, at)])} />
          <h2>{photoWords.words}</h2>
          {checks.length === 0 && <p>{photoWords.noWords}</p>}
          <ul class="plain-list">
            {checks.map((check) => (
              <li key={check.id}>{checkWords(check)}</li>
            ))}
          </ul>
        </div>
        <About still={still} />
      </div>
    </>
  )
}
