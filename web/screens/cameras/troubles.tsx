/** What kept a camera from seeing, and a person's word on it: then what was watched follows. */
import { useState } from 'preact/hooks'
import type { Trouble } from '../../../services/http/camera-shapes.ts'
import { tell } from '../../api/ask.ts'
import { Fold } from '../../parts/fold.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { troubleWords, camerasWords as words } from '../../text/cameras.ts'

interface TroublesProps {
  readonly cameraId: number
  readonly troubles: readonly Trouble[]
  readonly changed: () => void
}

export function Troubles({ cameraId, troubles, changed }: TroublesProps) {
  const [open, setOpen] = useState(false)
  const goesOn = troubles.filter(({ to, isFine }) => to === null && !isFine)
  const earlier = troubles.filter((one) => !goesOn.includes(one))
  const one = (trouble: Trouble) => (
    <OneTrouble cameraId={cameraId} trouble={trouble} changed={changed} key={trouble.id} />
  )
  return (
    <>
      {goesOn.map(one)}
      {earlier.length > 0 && (
        <Fold head={`${words.earlier} (${earlier.length})`} open={open} turned={setOpen}>
          {earlier.map(one)}
        </Fold>
      )}
    </>
  )
}

function OneTrouble({
  cameraId,
  trouble,
  changed,
}: {
  readonly cameraId: number
  readonly trouble: Trouble
  readonly changed: () => void
}) {
  const form = useForm()
  const say = (word: Trouble['words'][number]['word']) =>
    form.submit(async () => {
      await tell('POST', `/api/cameras/${cameraId}/troubles/${trouble.id}/words`, { word })
      changed()
    })
  const goesOn = trouble.to === null && !trouble.isFine
  const spoken = trouble.words[0] !== undefined && trouble.words[0].word !== 'taken back'
  return (
    <div class="camera-trouble">
      <p>{troubleWords(trouble)}</p>
      <div class="button-row">
        {trouble.stillId !== null && (
          <a class="button" href={`/photos/${trouble.stillId}`}>
            {words.shows}
          </a>
        )}
        {!trouble.isFine && (
          <button type="button" class="button" onClick={() => say('fine')} disabled={form.sending}>
            {words.fine}
          </button>
        )}
        {goesOn && (
          <button
            type="button"
            class="button button-strong"
            onClick={() => say('set right')}
            disabled={form.sending}
          >
            {words.setRight}
          </button>
        )}
        {spoken && (
          <button type="button" class="button" onClick={() => say('taken back')} disabled={form.sending}>
            {words.takeBack}
          </button>
        )}
      </div>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}
