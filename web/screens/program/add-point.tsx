/** Puts a point on the list that the ranking did not. */
import { useState } from 'preact/hooks'
import type { TargetListAnswer } from '../../../services/http/program-shapes.ts'
import { Choice } from '../../parts/field.tsx'
import { programWords as words } from '../../text/programs.ts'
import type { SayEdit } from './target-list.tsx'

interface AddPointProps {
  readonly list: TargetListAnswer
  readonly say: SayEdit
}

export function AddPoint({ list, say }: AddPointProps) {
  const [typed, setChosen] = useState('')
  const choices = list.otherPoints.map(({ pointId, name, nightsSeen, nightsWatched }) => ({
    value: String(pointId),
    words: `${name}: ${words.addHint(nightsSeen, nightsWatched)}`,
  }))
  const chosen = choices.some(({ value }) => value === typed) ? typed : choices[0]!.value
  return (
    <div class="add-point">
      <Choice label={words.add} name="pointId" value={chosen} choices={choices} change={setChosen} />
      <button type="button" class="button" onClick={() => say({ kind: 'add', pointId: Number(chosen) })}>
        {words.addThis}
      </button>
    </div>
  )
}
