/** Nights as bars by species. It is a table, so that a screen reader reads the same figures the bars draw. */
import { useLayoutEffect, useRef } from 'preact/hooks'
import type { NightOfPoint } from '../../../services/http/shapes.ts'
import { SPECIES, type Species } from '../../../services/words.ts'
import { nightsQuestion, withQuery } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Icon } from '../../parts/icon.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { speciesName } from '../../text/counts.ts'
import { nightCellWords, pointWords as words } from '../../text/point.ts'
import { dayName, nightAfter, nightAt, nightMeant, nightName } from '../../text/times.ts'
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
          watched={answer?.nights.find((one) => one.night === night)?.watched}
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

interface NightTableProps {
  readonly id: string
  readonly nights: readonly NightOfPoint[]
  readonly chosen: string
}

function NightTable({ id, nights, chosen }: NightTableProps) {
  const scroll = useRef<HTMLDivElement>(null)
  useLayoutEffect(() => {
    const box = scroll.current
    const column = box?.querySelector<HTMLElement>('[aria-current="true"]')
    if (!box || !column) return
    const cell = column.closest('th') ?? column
    box.scrollLeft = cell.offsetLeft + cell.offsetWidth - box.clientWidth
  }, [chosen, nights[0]?.night])
  const seen = SPECIES.filter((species) => nights.some((night) => cellOf(night, species) !== undefined))
  const rows = seen.length > 0 ? seen : (['cattle'] as const)
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a table that scrolls must be reached by keyboard
    <section class="night-scroll" ref={scroll} tabIndex={0} aria-label={words.nights}>
      <table class="night-table">
        <thead>
          <tr>
            <th scope="col">{words.species}</th>
            {nights.map(({ night }) => (
              <th scope="col" key={night}>
                <a
                  class="night-link"
                  href={withQuery(`/points/${id}`, { night })}
                  aria-label={words.openNight(nightName(night))}
                  aria-current={night === chosen ? 'true' : undefined}
                >
                  <small>{dayName(night).slice(0, 3)}</small>
                  {Number(night.slice(8))}
                  <small>{dayName(night).slice(-3)}</small>
                </a>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((species) => (
            <SpeciesRow species={species} nights={nights} id={id} chosen={chosen} key={species} />
          ))}
        </tbody>
      </table>
    </section>
  )
}

function cellOf(night: NightOfPoint, species: Species): NightOfPoint['species'][number] | undefined {
  return night.species.find((one) => one.species === species)
}

function SpeciesRow({ species, nights, id, chosen }: NightTableProps & { readonly species: Species }) {
  const most = Math.max(1, ...nights.map((night) => cellOf(night, species)?.least ?? 0))
  const role = nights.map((night) => cellOf(night, species)?.role).find((found) => found !== undefined)
  return (
    <tr>
      <th scope="row">
        <span class={`swatch swatch-${species}`} aria-hidden="true" />
        {speciesName(species)}
        {role !== undefined && <small class="night-role">{role}</small>}
      </th>
      {nights.map((night) => {
        const cell = cellOf(night, species)
        const blind = night.watched === null || night.watched <= 0
        return (
          <td class={`${blind ? 'blind' : ''} ${night.night === chosen ? 'chosen' : ''}`} key={night.night}>
            {cell === undefined ? (
              <span class={blind ? 'unseen' : 'nothing'}>
                <span class="unseen">{nightCellWords(cell, night.watched)}</span>
                {!blind && <span aria-hidden="true">·</span>}
              </span>
            ) : (
              <a
                class="bar-link"
                href={withQuery('/photos', { point: id, night: night.night, species })}
                aria-label={`${nightName(night.night)}: ${nightCellWords(cell, night.watched)}`}
              >
                <span class="bar-number">{cell.least}</span>
                <span class={`bar bar-${species}`} style={{ height: `${(100 * cell.least) / most}%` }} />
              </a>
            )}
          </td>
        )
      })}
    </tr>
  )
}
