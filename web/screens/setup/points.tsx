/** Points: the list in run order, a form for one, and a file for all. */
import { useState } from 'preact/hooks'
import type { Point } from '../../../services/http/shapes.ts'
import { accessQuestion } from '../../api/questions.ts'
import { type Asked, useAnswer } from '../../api/use-answer.ts'
import { LongList } from '../../parts/long-list.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { Opener } from '../../parts/opener.tsx'
import { pointLine } from '../../text/point.ts'
import { setupWords } from '../../text/setup.ts'
import { PointForm } from './point-form.tsx'
import { PointsFile } from './points-file.tsx'

const words = setupWords.points
interface PointSetupProps {
  readonly points: Asked<{ points: Point[] }>
}

export function PointSetup({ points: { answer, failure, reload } }: PointSetupProps) {
  const access = useAnswer(accessQuestion)
  const [editing, setEditing] = useState<number | 'new' | null>(null)
  const [left, setLeft] = useState<number | 'new' | null>(null)
  const close = () => {
    setLeft(editing)
    setEditing(null)
  }
  const done = () => {
    close()
    reload()
    access.reload()
  }
  return (
    <>
      {answer === null && failure === null && <Skeleton shape="line" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer?.points.length === 0 && <EmptyNotice words={words.none} />}
      <LongList showAll={words.showAll}>
        {answer?.points.map((point) => (
          <li key={point.id}>
            {editing === point.id ? (
              <PointForm
                point={point}
                access={access.answer?.access.find(({ pointId }) => pointId === point.id) ?? null}
                done={done}
                cancel={close}
                key={access.answer === null ? 'asking' : 'told'}
              />
            ) : (
              <div class="setup-item">
                <p>
                  <strong>{point.name}</strong>
                  <small>{pointLine(point)}</small>
                </p>
                <Opener
                  label={words.changeOne(point.name)}
                  back={left === point.id}
                  press={() => setEditing(point.id)}
                >
                  {setupWords.change}
                </Opener>
              </div>
            )}
          </li>
        ))}
      </LongList>
      {editing === 'new' ? (
        <PointForm point={null} access={null} done={done} cancel={close} />
      ) : (
        <Opener strong back={left === 'new'} press={() => setEditing('new')}>
          {words.add}
        </Opener>
      )}
      <PointsFile loaded={reload} />
    </>
  )
}
