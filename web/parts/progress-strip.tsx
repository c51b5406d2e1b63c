/** Long work under way: photos being read, the demo's past being made. */
import type { Progress } from '../../services/http/shapes.ts'
import { progressWords } from '../text/shell.ts'

export function ProgressStrip({ progress }: { readonly progress: Progress }) {
  const words = progressWords(progress)
  if (words === null) return null
  const { making } = progress
  return (
    <div class="progress">
      <p id="progress-words">{words}</p>
      {making === null ? (
        <progress aria-labelledby="progress-words" />
      ) : (
        <progress aria-labelledby="progress-words" value={making.made} max={Math.max(1, making.of)} />
      )}
    </div>
  )
}
