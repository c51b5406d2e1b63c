/** Nights as bars by species. It is a table, so that a screen reader reads the same figures the bars draw. */
import { nightsQuestion, withQuery } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Icon } from '../../parts/icon.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { pointWords as words } from '../../text/point.ts'
import { dayName, nightAfter, nightAt, nightMeant } from '../../text/times.ts'
import { NightTable } from './night-table.tsx'
import { OneNight } from './one-night.tsx'

/** Four weeks: long enough to see a mob settle in, short enough to fetch at once. */
const NIGHTS_SHOWN = 28

interface NightsProps {
  readonly id: string
  readonly chosen: string | null
  /** The service's "now"; null while it is on its way. */
  readonly latest: string | null
}

export function Nights({ id, chosen, latest }: NightsProps) {
  const newest = latest === null ? null : nightAt(latest)
  const to = newest === null ? null : lastShown(newest, chosen)
  const question = to === null ? null : nightsQuestion(id, { from: nightAfter(to, 1 - NIGHTS_SHOWN), to })
  const { answer, failure, reload } = useAnswer(question)
  const night = chosen ?? (latest === null ? null : nightMeant(latest))
  return (
    <section aria-labelledby="nights-head">
      <h2 id="nights-head">{words.nights}</h2>
      <p class="small">{words.nightsHint}</p>
      {to !== null && newest !== null && <SpellPicker id={id} to={to} newest={newest} />}
      {answer === null && failure === null && <Skeleton shape="photo" count={1} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && night !== null && <NightTable id={id} nights={answer.nights} chosen={night} />}
      {night !== null && (
        <OneNight
          id={id}
          night={night}
          running={night === newest}
          watched={answer?.nights.find((one) => one.night === night)?.watched}
          changed={reload}
        />
      )}
    </section>
  )
}

/** The last night of the four weeks that hold the chosen one, counted back from the newest. */
function lastShown(newest: string, chosen: string | null): string {
  let to = newest
  if (chosen === null) return to
  while (chosen <= nightAfter(to, -NIGHTS_SHOWN)) to = nightAfter(to, -NIGHTS_SHOWN)
  return to
}

function SpellPicker({
  id,
  to,
  newest,
}: {
  readonly id: string
  readonly to: string
  readonly newest: string
}) {
  const href = (night: string) => withQuery(`/points/${id}`, { night })
  const later = nightAfter(to, NIGHTS_SHOWN)
  return (
    <nav class="night-picker" aria-label={words.nights}>
      <a
        class="button button-square"
        href={href(nightAfter(to, -NIGHTS_SHOWN))}
        aria-label={words.earlierNights}
      >
        <Icon name="left" />
      </a>
      <p>
        <strong>{words.spell(dayName(nightAfter(to, 1 - NIGHTS_SHOWN)), dayName(to))}</strong>
      </p>
      {to < newest ? (
        <a
          class="button button-square"
          href={href(later > newest ? newest : later)}
          aria-label={words.laterNights}
        >
          <Icon name="right" />
        </a>
      ) : (
        <span class="button button-square button-off" aria-hidden="true">
          <Icon name="right" />
        </span>
      )}
    </nav>
  )
}
