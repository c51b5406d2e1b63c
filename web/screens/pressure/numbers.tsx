/** Every number of one species, in the order of its ranking; folded until asked for. */
import { useState } from 'preact/hooks'
import type { PressureAnswer } from '../../../services/http/pressure-shapes.ts'
import type { Species } from '../../../services/words.ts'
import { Fold } from '../../parts/fold.tsx'
import { Numbers } from '../../parts/numbers.tsx'
import {
  nightsNumber,
  placeWords,
  rangeWords,
  seenWords,
  told,
  pressureWords as words,
} from '../../text/pressure.ts'
import { photosOf } from './photos-of.ts'

interface NumbersProps {
  readonly answer: PressureAnswer
  readonly species: Species
}

export function SpeciesNumbers({ answer, species }: NumbersProps) {
  const [open, setOpen] = useState(false)
  const points = new Map(answer.points.map((point) => [point.pointId, point]))
  const rows = answer.rows
    .filter((row) => row.species === species)
    .sort((a, b) => (a.ranked?.place ?? Infinity) - (b.ranked?.place ?? Infinity))
  const { heads } = words
  return (
    <section class="all-numbers" aria-labelledby="numbers-head">
      <Fold head={<h2 id="numbers-head">{words.numbers(species)}</h2>} open={open} turned={setOpen}>
        <p class="small">{words.numbersHint}</p>
        <Numbers label={words.numbers(species)} heads={[words.point, ...Object.values(heads)]}>
          {rows.map((row) => {
            const point = points.get(row.pointId)!
            return (
              <tr key={row.pointId}>
                <th scope="row">{point.name}</th>
                <td>{placeWords(row)}</td>
                <td>
                  <a href={photosOf(answer, row)}>{row.visits}</a>
                </td>
                <td>{nightsNumber(point.watchedNights)}</td>
                <td>{rangeWords(row.visitRate)}</td>
                <td>{row.ranked === null ? 'none' : told(row.ranked.rate)}</td>
                <td>{rangeWords(row.animalRate)}</td>
                <td>{row.largest}</td>
                <td>{seenWords(row)}</td>
                <td>
                  {row.lastWeek.verdict} ({row.lastWeek.visits} in {nightsNumber(row.lastWeek.watchedNights)})
                </td>
                <td>
                  {row.fourWeeks.verdict} ({row.fourWeeks.visits} in{' '}
                  {nightsNumber(row.fourWeeks.watchedNights)})
                </td>
                <td>{rangeWords(row.load?.litresADay ?? null)}</td>
                <td>{rangeWords(row.load?.drySheepEquivalents ?? null)}</td>
              </tr>
            )
          })}
        </Numbers>
      </Fold>
    </section>
  )
}
