/** Cameras: the list, a form for one, and its key, which is shown once. */
import { useState } from 'preact/hooks'
import type { Camera, CameraWithKey, Point } from '../../../services/http/shapes.ts'
import type { Asked } from '../../api/use-answer.ts'
import { LongList } from '../../parts/long-list.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { Opener } from '../../parts/opener.tsx'
import { camerasWords, cameraTimesWords } from '../../text/cameras.ts'
import { setupWords } from '../../text/setup.ts'
import { waysInWords } from '../../text/ways-in.ts'
import { CameraForm } from './camera-form.tsx'
import { CameraKey } from './camera-key.tsx'
import { CameraTimes } from './camera-times.tsx'
import { NewKey } from './new-key.tsx'
import { WaysIn } from './ways-in/ways-in.tsx'

const words = setupWords.cameras
interface CameraSetupProps {
  readonly cameras: Asked<{ cameras: Camera[] }>
  readonly points: readonly Point[]
  /** The station's. */
  readonly zone: string
}

export function CameraSetup({ cameras, points: pointList, zone }: CameraSetupProps) {
  const { answer, failure, reload } = cameras
  const [editing, setEditing] = useState<number | 'new' | null>(null)
  const [left, setLeft] = useState<number | 'new' | null>(null)
  const close = () => {
    setLeft(editing)
    setEditing(null)
  }
  const [waysOf, setWaysOf] = useState<number | null>(null)
  const [waysLeft, setWaysLeft] = useState<number | null>(null)
  const [shown, setShown] = useState<CameraWithKey | null>(null)
  const nameOf = (id: number) => pointList.find((point) => point.id === id)?.name ?? ''
  const done = (made: CameraWithKey | null) => {
    close()
    if (made !== null) {
      // Its key has the keyboard now, not the button that opened the form.
      setLeft(null)
      setShown(made)
    }
    reload()
  }
  return (
    <>
      {answer === null && failure === null && <Skeleton shape="line" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer?.cameras.length === 0 && (
        <EmptyNotice words={pointList.length === 0 ? words.needPoint : words.none} />
      )}
      {shown !== null && <CameraKey made={shown} close={() => setShown(null)} />}
      {answer !== null && answer.cameras.length > 0 && (
        <a class="button" href="/cameras">
          {camerasWords.open}
        </a>
      )}
      <LongList showAll={words.showAll}>
        {answer?.cameras.map((camera) => (
          <li key={camera.id}>
            {editing === camera.id ? (
              <>
                <CameraForm camera={camera} points={pointList} zone={zone} done={done} cancel={close} />
                <CameraTimes camera={camera} points={pointList} zone={zone} changed={reload} />
                <div class="new-key">
                  <p class="hint">{words.newKeyHint}</p>
                  <NewKey camera={camera} made={done} />
                </div>
              </>
            ) : (
              <div class="setup-item">
                <p>
                  <strong>{camera.name}</strong>
                  <small>
                    {camera.up ? '' : `${cameraTimesWords.isDown}. `}
                    {nameOf(camera.pointId)}. {words.keyHint(camera.keyHint)}
                  </small>
                </p>
                {waysOf !== camera.id && (
                  <Opener
                    label={waysInWords.openOf(camera.name)}
                    back={waysLeft === camera.id}
                    press={() => setWaysOf(camera.id)}
                  >
                    {waysInWords.open}
                  </Opener>
                )}
                <Opener
                  label={words.changeOne(camera.name)}
                  back={left === camera.id}
                  press={() => setEditing(camera.id)}
                >
                  {setupWords.change}
                </Opener>
              </div>
            )}
            {waysOf === camera.id && editing !== camera.id && (
              <WaysIn
                camera={camera}
                close={() => {
                  setWaysLeft(camera.id)
                  setWaysOf(null)
                }}
              />
            )}
          </li>
        ))}
      </LongList>
      {editing === 'new' ? (
        <CameraForm camera={null} points={pointList} zone={zone} done={done} cancel={close} />
      ) : (
        pointList.length > 0 && (
          <Opener strong back={left === 'new'} press={() => setEditing('new')}>
            {words.add}
          </Opener>
        )
      )}
    </>
  )
}
