/** The chosen night at a point: its visits, then its photos. */
import { stillsQuestion, visitsQuestion, withQuery } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { BoxSwitch } from '../../parts/box-switch.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { More, usePages } from '../../parts/pages.tsx'
import { PhotoGrid } from '../../parts/photo-grid.tsx'
import { visitSentence, pointWords as words } from '../../text/point.ts'
import { nightName } from '../../text/times.ts'
import { watchedWords } from '../../text/water-run.ts'
import { NightWatching } from './night-watching.tsx'

interface OneNightProps {
  readonly id: string
  readonly night: string
  /** Watched fraction; null: no camera stood here; undefined: not known yet. */
  readonly watched: number | null | undefined
  /** The night is not over. */
  readonly running: boolean
  readonly changed: () => void
}

/** Photos fetched at once; the rest come with "Show more". */
const PHOTOS_A_PAGE = 24

export function OneNight({ id, night, watched, running, changed }: OneNightProps) {
  const visits = useAnswer(visitsQuestion({ point: id, from: night, to: night, limit: 200 }))
  const filters = { point: id, night, limit: PHOTOS_A_PAGE }
  const photos = usePages(
    `${id} ${night}`,
    (cursor) => stillsQuestion({ ...filters, cursor }),
    (page) => page.stills,
  )
  const blind = watched === null || watched === 0
  const partly = watched === undefined ? null : watchedWords(watched)
  return (
    <div class="one-night">
      <h3>{nightName(night)}</h3>
      {blind ? (
        <p class="small">{running ? words.notWatchedYet : words.notWatchedNight}</p>
      ) : (
        partly !== null && <p class="small">{partly}</p>
      )}
      <NightWatching id={id} night={night} changed={changed} />
      {!(blind && visits.answer?.visits.length === 0) && <h4>{words.visits}</h4>}
      {visits.answer === null && visits.failure === null && <Skeleton shape="line" count={2} />}
      {visits.failure !== null && <FailedNotice failure={visits.failure} again={visits.reload} />}
      {visits.answer?.visits.length === 0 && !blind && <p>{words.noVisits}</p>}
      <ul class="visits">
        {visits.answer?.visits.map((visit) => (
          <li key={visit.id}>
            <a class="visit" href={withQuery('/photos', { point: id, visit: visit.id })}>
              <img src={visit.bestSmallUrl} alt="" width="16" height="9" loading="lazy" decoding="async" />
              <span>
                <strong>{visitSentence(visit)}</strong>
                <small>
                  {visit.role}, {words.visitPhotos(visit.photos)}
                </small>
              </span>
            </a>
          </li>
        ))}
      </ul>
      <div class="section-head">
        <h4>{words.photos}</h4>
        <BoxSwitch />
      </div>
      {photos.items === null && photos.failure === null && <Skeleton shape="photo" count={3} />}
      {photos.items?.length === 0 && <EmptyNotice words={words.noPhotos} />}
      {photos.items !== null && <PhotoGrid stills={photos.items} />}
      <More paged={photos} />
    </div>
  )
}
