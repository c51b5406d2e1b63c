/** Point by species: visits with a small bar and an arrow. A table, so that a screen reader reads what the bars draw. */
import type { PressureAnswer, PressurePoint, PressureRow } from '../../../services/http/pressure-shapes.ts'
import { Icon } from '../../parts/icon.tsx'
import { plural, speciesMany, speciesName } from '../../text/counts.ts'
import { pressureWords as words } from '../../text/pressure.ts'
import { photosOf } from './photos-of.ts'

export function Matrix({ answer }: { readonly answer: PressureAnswer }) {
  const seen = answer.species.filter(({ species }) => answer.rows.some((row) => row.species === species))
  const most = Math.max(1, ...answer.rows.map(({ visits }) => visits))
  return (
    <section aria-labelledby="matrix-head">
      <h2 id="matrix-head">{words.byPoint}</h2>
      <p class="small">{words.byPointHint}</p>
      <table class="matrix">
        <thead>
          <tr>
            <th scope="col">{words.point}</th>
            {seen.map(({ species, role }) => (
              <th scope="col" key={species}>
                {speciesName(species)}
                <small class="matrix-role">{role}</small>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {answer.points.map((point) => (
            <tr key={point.pointId}>
              <th scope="row">
                <a href={`/points/${point.pointId}`}>{point.name}</a>
              </th>
              {seen.map(({ species }) => (
                <Cell
                  answer={answer}
                  point={point}
                  species={species}
                  row={answer.rows.find((row) => row.pointId === point.pointId && row.species === species)}
                  most={most}
                  key={species}
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
  readonly answer: PressureAnswer
  readonly point: PressurePoint
  readonly species: PressureRow['species']
  readonly row: PressureRow | undefined
  readonly most: number
}

function Cell({ answer, point, species, row, most }: CellProps) {
  if (point.watchedNights === 0) {
    return (
      <td class="blind">
        <span class="unseen">not watched</span>
      </td>
    )
  }
  if (row === undefined) return <td class="matrix-none">0</td>
  return (
    <td>
      <a
        class="matrix-link"
        href={photosOf(answer, row)}
        aria-label={`${plural(row.visits, 'visit')} of ${speciesMany(species)} at ${point.name}: ${row.fourWeeks.verdict}`}
      >
        <span class="matrix-number">
          <span class="matrix-visits">{row.visits}</span>
          <Sign verdict={row.fourWeeks.verdict} />
        </span>
        <span class={`matrix-bar bar-${species}`} style={{ width: `${(100 * row.visits) / most}%` }} />
      </a>
    </td>
  )
}

/** The cell's name says the same in words. */
function Sign({ verdict }: { readonly verdict: PressureRow['fourWeeks']['verdict'] }) {
  switch (verdict) {
    case 'more':
      return <Icon name="up" />
    case 'fewer':
      return <Icon name="down" />
    case 'worth a look':
      return <span aria-hidden="true">?</span>
    case 'no clear change':
      return <span aria-hidden="true">–</span>
    case 'too few nights to tell':
    case 'photos still being read':
      return <span aria-hidden="true">·</span>
  }
}
