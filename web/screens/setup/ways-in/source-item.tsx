/** One way in: how it goes, and a try at once that shows the photo it got or the exact reason it did not. */
import { useState } from 'preact/hooks'
import type { CameraSource, Tried, TryAnswer } from '../../../../services/http/source-shapes.ts'
import { tell } from '../../../api/ask.ts'
import { FactChip } from '../../../parts/fact.tsx'
import { FailedNotice } from '../../../parts/notice.tsx'
import { Opener } from '../../../parts/opener.tsx'
import { Sure } from '../../../parts/sure.tsx'
import { useForm } from '../../../parts/use-form.ts'
import { dayAndClock } from '../../../text/times.ts'
import { sourceFact, triedFact, waysInWords as words } from '../../../text/ways-in.ts'

interface SourceItemProps {
  readonly source: CameraSource
  /** Its form has just been closed. */
  readonly back: boolean
  /** Opens its form; null for a kind that has none here. */
  readonly change: (() => void) | null
  readonly changed: () => void
}

export function SourceItem({ source, back, change, changed }: SourceItemProps) {
  const trying = useForm()
  const turning = useForm()
  const [tried, setTried] = useState<Tried | null>(null)
  const path = `/api/cameras/${source.cameraId}/sources/${source.id}`
  const kind = words.kinds[source.kind]
  const tryNow = async () => {
    setTried(null)
    setTried((await tell<TryAnswer>('POST', `${path}/try`, {})).tried)
    changed()
  }
  const turn = async () => {
    await tell('PATCH', path, { isOn: !source.isOn })
    changed()
  }
  const remove = async () => {
    await tell('DELETE', path, {})
    changed()
  }
  const { folder, address } = source.settings
  return (
    <div class="way-in">
      <p class="way-in-head">
        <strong>{kind}</strong>
        <small>{String(folder ?? address ?? '')}</small>
      </p>
      <FactChip fact={sourceFact(source, new Date().toISOString())} icon="camera" />
      {source.told !== null && <p>{source.told}</p>}
      <div class="button-row">
        <button
          type="button"
          class="button button-strong"
          aria-label={words.tryOf(kind)}
          disabled={trying.sending}
          onClick={() => trying.submit(tryNow)}
        >
          {trying.sending ? words.trying : words.try}
        </button>
        {change !== null && (
          <Opener label={`${words.change}: ${kind}`} back={back} press={change}>
            {words.change}
          </Opener>
        )}
        <button type="button" class="button" disabled={turning.sending} onClick={() => turning.submit(turn)}>
          {source.isOn ? words.pause : words.goOn}
        </button>
        <Sure
          form={turning}
          label={`${words.remove}: ${kind}`}
          warns={words.removeWarns}
          yes={words.removeYes}
          act={remove}
        >
          {words.remove}
        </Sure>
      </div>
      <div role="status">{tried !== null && <TriedTold tried={tried} />}</div>
      {trying.failure !== null && <FailedNotice failure={trying.failure} />}
      {turning.failure !== null && <FailedNotice failure={turning.failure} />}
      {source.asideFiles > 0 && (
        <details class="fold">
          <summary>{words.asideTitle(source.asideFiles)}</summary>
          <ul class="aside-files">
            {source.aside.map((file) => (
              <li key={file.path}>
                <strong>{file.path}</strong>
                <small>
                  {file.reason}, {dayAndClock(file.at)}
                </small>
              </li>
            ))}
          </ul>
        </details>
      )}
    </div>
  )
}

function TriedTold({ tried }: { readonly tried: Tried }) {
  const [photo] = tried.photos
  return (
    <>
      <FactChip fact={triedFact(tried)} icon={tried.outcome === 'well' ? 'tick' : 'alarm'} />
      {photo !== undefined && (
        <a href={`/photos/${photo.id}`} class="tried-photo">
          <img src={photo.smallUrl} alt="" />
          <small>
            {dayAndClock(photo.takenAt)}
            {photo.clockDoubt === null ? '' : `: ${photo.clockDoubt}`}
            {photo.reason === null ? '' : `: ${photo.reason}`}
          </small>
        </a>
      )}
    </>
  )
}
