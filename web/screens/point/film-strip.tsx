/** The last day hour by hour: every hour stands there, hatched where nobody watched. */
import { useLayoutEffect, useRef } from 'preact/hooks'
import type { DayAnswer } from '../../../services/http/shapes.ts'
import { Photo } from '../../parts/photo.tsx'
import { rememberList } from '../../parts/photo-list.ts'
import { stillWords } from '../../text/photo.ts'
import { pointWords as words } from '../../text/point.ts'
import { clockOf, dayName } from '../../text/times.ts'

const HOUR_LOOKS = { yes: 'watched', no: 'blind', 'not yet known': 'open' } as const

export function FilmStrip({ day }: { readonly day: DayAnswer }) {
  const strip = useRef<HTMLOListElement>(null)
  // It opens at the latest photo; without any, at the latest hour, which is on the right.
  useLayoutEffect(() => {
    const box = strip.current
    if (box === null) return
    const photos = box.querySelectorAll<HTMLElement>('.hour-photos a')
    const last = photos[photos.length - 1]?.closest<HTMLElement>('.hour')
    box.scrollLeft = last ? last.offsetLeft + last.offsetWidth - box.clientWidth : box.scrollWidth
  }, [])
  const ids = day.hours.flatMap((hour) => hour.stills.map((still) => still.id))
  return (
    <>
      <p class="small">{words.lastDayHint}</p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a strip that scrolls must be reached by keyboard */}
      <ol class="film-strip" ref={strip} tabIndex={0} aria-label={words.lastDay}>
        {day.hours.map(({ startsAt, watched, stills }, index) => (
          <li
            class={`hour hour-${HOUR_LOOKS[watched]} ${stills.length === 0 ? 'hour-empty' : ''}`}
            key={startsAt}
          >
            <span class="hour-clock" aria-hidden="true">
              {clockOf(startsAt)}
              {(index === 0 || clockOf(startsAt) === '00:00') && <small>{dayName(startsAt)}</small>}
            </span>
            <span class="unseen">{words.hourWords(clockOf(startsAt), stills.length, watched)}</span>
            <div class="hour-photos">
              {stills.map((still) => (
                <a href={`/photos/${still.id}`} onClick={() => rememberList(ids)} key={still.id}>
                  <Photo still={still} size="small" labels={false} />
                  <span class="frame-line">
                    {clockOf(still.takenAt)} {stillWords(still)}
                  </span>
                </a>
              ))}
              {stills.length === 0 && watched !== 'yes' && (
                <span class="blind-word" aria-hidden="true">
                  {words.hourWatched[watched]}
                </span>
              )}
            </div>
          </li>
        ))}
      </ol>
    </>
  )
}
