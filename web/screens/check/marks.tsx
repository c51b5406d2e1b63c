/** What can be said of a visit beside its count: six marks, each on or off. */
import { MARKS, type Mark } from '../../../services/words.ts'
import { useInSight } from '../../parts/in-sight.ts'
import { checkWordsOnScreen as words } from '../../text/check.ts'

interface MarksProps {
  readonly marks: ReadonlySet<Mark>
  readonly marked: (mark: Mark, on: boolean) => void
  readonly photos: number
}

export function Marks({ marks, marked, photos }: MarksProps) {
  const here = useInSight<HTMLFieldSetElement>()
  return (
    <fieldset class="choice" ref={here}>
      <legend>{words.marksOf(photos)}</legend>
      {MARKS.map((mark, index) => (
        <button
          type="button"
          class="button"
          aria-pressed={marks.has(mark)}
          onClick={() => marked(mark, !marks.has(mark))}
          key={mark}
        >
          {words.marks[mark]} <kbd>{index + 1}</kbd>
        </button>
      ))}
      {marks.has('person') && <p class="small">{words.personNote}</p>}
    </fieldset>
  )
}
