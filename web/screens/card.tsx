/** Putting in a camera's card: choose the camera, choose or drop the folder, see it come in. */
import { useState } from 'preact/hooks'
import { useRoute } from 'preact-iso'
import type { Camera } from '../../services/http/shapes.ts'
import { camerasQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { Choice } from '../parts/field.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { unfinishedLine, cardWords as words } from '../text/card.ts'
import { Chooser } from './card/chooser.tsx'
import { CardProgressPart } from './card/progress.tsx'
import { unfinishedCard } from './card/unfinished.ts'
import { useCard } from './card/use-card.ts'

export function CardScreen() {
  const { query } = useRoute()
  const { answer, failure, reload } = useAnswer(camerasQuestion)
  const [left] = useState(unfinishedCard)
  const asked = Number(query.camera ?? left?.cameraId)
  return (
    <Screen title={words.title} kind="card" back={{ href: '/setup#cameras', words: words.back }}>
      <p class="lead">{words.hint}</p>
      {answer === null && failure === null && <Skeleton shape="line" count={3} />}
      {answer === null && failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer?.cameras.length === 0 && <EmptyNotice words={words.noCameras} href="/setup#cameras" />}
      {answer !== null && answer.cameras.length > 0 && <CardForm cameras={answer.cameras} asked={asked} />}
    </Screen>
  )
}

interface CardFormProps {
  readonly cameras: readonly Camera[]
  /** The camera that the address names, or the one that was not done. */
  readonly asked: number
}

function CardForm({ cameras, asked }: CardFormProps) {
  const card = useCard()
  const { state } = card
  const [chosen, setChosen] = useState(String((cameras.find(({ id }) => id === asked) ?? cameras[0]!).id))
  const [left] = useState(unfinishedCard)
  const camera = cameras.find(({ id }) => String(id) === chosen) ?? cameras[0]!
  const isChoosing = state.kind === 'none' || state.kind === 'nothing'
  return (
    <div class="card-form">
      {isChoosing && (
        <Choice
          label={words.camera}
          name="camera"
          value={chosen}
          change={setChosen}
          choices={cameras.map(({ id, name }) => ({ value: String(id), words: name }))}
        />
      )}
      {!isChoosing && (
        <p>
          {words.camera} <strong>{camera.name}</strong>
        </p>
      )}
      {state.kind === 'none' && left !== null && left.cameraId === camera.id && (
        <p class="notice notice-look">{unfinishedLine(left)}</p>
      )}
      {state.kind === 'nothing' && <EmptyNotice words={words.nothing} />}
      {isChoosing && <Chooser put={(files) => card.put(camera, files)} />}
      {state.kind === 'looking' && (
        <p role="status" class="card-looking">
          {words.looking} …
        </p>
      )}
      {(state.kind === 'sending' || state.kind === 'over') && (
        <CardProgressPart state={state} camera={camera} card={card} />
      )}
    </div>
  )
}
