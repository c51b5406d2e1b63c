/** Long work under way: photos being read or looked at again, counts that follow new marks, the demo's past being made. */
import type { Progress } from '../../services/http/shapes.ts'
import { progressWords } from '../text/shell.ts'

export function ProgressStrip({ progress }: { readonly progress: Progress }) {
  const words = progressWords(progress)
  if (words === null) return null
  const part = measured(progress)
  return (
    <div class="progress">
      <p id="progress-words">{words}</p>
      {part === null ? (
        <progress aria-labelledby="progress-words" />
      ) : (
        <progress aria-labelledby="progress-words" value={part.done} max={Math.max(1, part.of)} />
      )}
    </div>
  )
}

/** The part of the work whose end is known, if there is one and no photo waits: nobody knows how many more will come. */
function measured({ making, waiting, again, recount }: Progress) {
  if (making !== null) return { done: making.made, of: making.of }
  return waiting > 0 ? null : (again ?? recount)
}
