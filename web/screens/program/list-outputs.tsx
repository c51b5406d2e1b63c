/** The list on paper, and for maps, spreadsheets and calendars. */
import type { TargetListAnswer } from '../../../services/http/program-shapes.ts'
import { programWords } from '../../text/programs.ts'

const words = programWords.outputs
const FILES = ['gpx', 'kml', 'geojson', 'csv', 'ics'] as const

export function ListOutputs({ list }: { readonly list: TargetListAnswer }) {
  const path = `/api/programs/${list.program.id}/target-list`
  return (
    <div class="list-outputs">
      <div class="button-row outputs">
        <a class="button button-strong" href={`${path}.html`}>
          {words.print}
        </a>
        <a class="button" href="#links">
          {words.share}
        </a>
        {FILES.map((format) => (
          <a class="button" href={`${path}.${format}`} download key={format}>
            {words[format]}
          </a>
        ))}
      </div>
      <p class="hint">{programWords.filesHint}</p>
    </div>
  )
}
