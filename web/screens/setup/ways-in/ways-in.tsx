/** How one camera's photos come in: what it sends itself, and what is fetched for it. */
import { useState } from 'preact/hooks'
import type { Camera } from '../../../../services/http/shapes.ts'
import type { CameraSource } from '../../../../services/http/source-shapes.ts'
import { batteriesQuestion, sourcesQuestion } from '../../../api/questions.ts'
import { useAnswer } from '../../../api/use-answer.ts'
import { FactChip } from '../../../parts/fact.tsx'
import { FailedNotice, Skeleton } from '../../../parts/notice.tsx'
import { Opener } from '../../../parts/opener.tsx'
import { batteryLine, waysInWords as words } from '../../../text/ways-in.ts'
import { DropFolderForm } from './drop-folder-form.tsx'
import { OtherWays } from './other-ways.tsx'
import { PushLines } from './push-lines.tsx'
import { SnapshotForm } from './snapshot-form.tsx'
import { SourceItem } from './source-item.tsx'

const LOOK_EVERY_MS = 10_000
const ADDABLE = ['drop folder', 'snapshot'] as const
type Addable = (typeof ADDABLE)[number]

interface WaysInProps {
  readonly camera: Camera
  readonly close: () => void
}

export function WaysIn({ camera, close }: WaysInProps) {
  const { answer, failure, reload } = useAnswer(sourcesQuestion(camera.id), LOOK_EVERY_MS)
  const batteries = useAnswer(batteriesQuestion)
  const [open, setOpen] = useState<Addable | number | null>(null)
  const [left, setLeft] = useState<Addable | number | null>(null)
  const shut = () => {
    setLeft(open)
    setOpen(null)
  }
  const saved = () => {
    shut()
    reload()
  }
  const battery = batteryLine(batteries.answer?.batteries.find(({ cameraId }) => cameraId === camera.id))
  return (
    <div class="ways-in">
      <h4>{words.title(camera.name)}</h4>
      {answer === null && failure === null && <Skeleton shape="line" count={2} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {battery !== null && <FactChip fact={battery} icon="battery" />}
      {answer?.sources.length === 0 && <p>{words.none}</p>}
      {answer?.sources.map((source) =>
        open === source.id ? (
          <SourceForm
            kind={source.kind}
            camera={camera}
            source={source}
            saved={saved}
            cancel={shut}
            key={source.id}
          />
        ) : (
          <SourceItem
            source={source}
            back={left === source.id}
            change={isAddable(source.kind) ? () => setOpen(source.id) : null}
            changed={reload}
            key={source.id}
          />
        ),
      )}
      {answer !== null &&
        ADDABLE.map((kind) =>
          open === kind ? (
            <SourceForm kind={kind} camera={camera} source={null} saved={saved} cancel={shut} key={kind} />
          ) : (
            <Opener back={left === kind} press={() => setOpen(kind)} key={kind}>
              {words.add[kind]}
            </Opener>
          ),
        )}
      <OtherWays camera={camera} />
      <PushLines />
      <button type="button" class="button" onClick={close}>
        {words.close}
      </button>
    </div>
  )
}

const isAddable = (kind: CameraSource['kind']): kind is Addable => ADDABLE.some((one) => one === kind)

export interface SourceFormProps {
  readonly camera: Camera
  /** Null: a new one. */
  readonly source: CameraSource | null
  readonly saved: () => void
  readonly cancel: () => void
}

function SourceForm({ kind, ...props }: SourceFormProps & { readonly kind: CameraSource['kind'] }) {
  return kind === 'drop folder' ? <DropFolderForm {...props} /> : <SnapshotForm {...props} />
}
