/** Night by point: one species' visits, what was not watched hatched, what is not known yet dotted. */
import type { PressureAnswer, PressurePoint } from '../../../services/http/pressure-shapes.ts'
import type { Species } from '../../../services/words.ts'
import { plural } from '../../text/counts.ts'
import { pressureWords as words } from '../../text/pressure.ts'
import { dayName, nightName } from '../../text/times.ts'
import { photosOf } from './photos-of.ts'

/** Per cent of the species' colour; with more of it the number on it could not be read. */
const LEAST_SHADE = 10
const MOST_SHADE = 38

interface NightsProps {
  readonly answer: PressureAnswer
  readonly species: Species
}

export function SpeciesNights({ answer, species }: NightsProps) {
  const rows = new Map(
    answer.rows.filter((row) => row.species === species).map((row) => [row.pointId, row.visitsByNight]),
  )
  const most = Math.max(1, ...[...rows.values()].flat())
  return (
    <section aria-labelledby="week-nights-head">
      <h2 id="week-nights-head">{words.nights(species)}</h2>
      <p class="small">{words.nightsHint}</p>
      <table class="week-nights">
        <thead>
          <tr>
            <th scope="col">{words.point}</th>
            {answer.nights.map((night) => (
              <th scope="col" key={night}>
                <abbr title={nightName(night)}>{dayName(night).slice(0, 2)}</abbr>
                <small>{Number(night.slice(8))}</small>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {answer.points.map((point) => (
            <tr key={point.pointId}>
              <th scope="row">{point.name}</th>
              {answer.nights.map((night, i) => (
                <Cell
                  visits={rows.get(point.pointId)?.[i] ?? 0}
                  watched={point.watchedByNight[i] ?? null}
                  most={most}
                  name={`${point.name}, ${nightName(night)}`}
                  href={photosOf(answer, { pointId: point.pointId, species, night })}
                  species={species}
                  key={night}
                />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  )
}

interface CellProps {
  readonly visits: number
  readonly watched: PressurePoint['watchedByNight'][number]
  readonly most: number
  readonly name: string
  readonly href: string
  readonly species: Species
}

function Cell({ visits, watched, most, name, href, species }: CellProps) {
  const look = watched === null ? 'unknown' : watched <= 0 ? 'blind' : ''
  if (visits === 0) {
    return (
      <td class={look}>
        <span class="unseen">
          {watched === null ? 'not known yet' : watched <= 0 ? 'not watched' : 'none'}
        </span>
      </td>
    )
  }
  const share = Math.round(LEAST_SHADE + ((MOST_SHADE - LEAST_SHADE) * visits) / most)
  return (
    <td class={look} style={{ '--fill': `color-mix(in srgb, var(--${species}) ${share}%, var(--surface))` }}>
      <a class="week-night-link" href={href} aria-label={`${name}: ${plural(visits, 'visit')}`}>
        {visits}
      </a>
    </td>
  )
}
