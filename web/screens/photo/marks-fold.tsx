/** The marks of one photo, folded until somebody wants them; what is marked stands on the fold. */
import { useState } from 'preact/hooks'
import { MARKS, type Mark } from '../../../services/words.ts'
import { sayWords } from '../../api/words-out.ts'
import { Fold } from '../../parts/fold.tsx'
import { checkWordsOnScreen as words } from '../../text/check.ts'
import { list } from '../../text/counts.ts'
import { Marks } from '../check/marks.tsx'
import type { StillNow } from '../check/standing.ts'

export function MarksFold({ still }: { readonly still: StillNow }) {
  const [open, setOpen] = useState(false)
  const stood = still.word?.marks ?? []
  const marked = (mark: Mark, on: boolean) =>
    sayWords([
      {
        stillId: still.id,
        verdict: 'marked',
        marks: MARKS.filter((one) => (one === mark ? on : stood.includes(one))),
      },
    ])
  const told = list(stood.map((mark) => words.marks[mark])).toLowerCase()
  return (
    <Fold head={told === '' ? words.moreToSay : `${words.moreToSay}: ${told}`} open={open} turned={setOpen}>
      <Marks marks={new Set(stood)} marked={marked} photos={1} />
    </Fold>
  )
}
