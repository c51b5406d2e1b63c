/** The bars themselves, a row for each species and a column for each night. */
import { useLayoutEffect, useRef } from 'preact/hooks'
import type { NightOfPoint } from '../../../services/http/shapes.ts'
import { SPECIES, type Species } from '../../../services/words.ts'
import { withQuery } from '../../api/questions.ts'
import { speciesName } from '../../text/counts.ts'
import { nightCellWords, pointWords as words } from '../../text/point.ts'
import { dayName, nightName } from '../../text/times.ts'

interface NightTableProps {
  readonly id: string
  readonly nights: readonly NightOfPoint[]
  readonly chosen: string
}

export function NightTable({ id, nights, chosen }: NightTableProps) {
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
