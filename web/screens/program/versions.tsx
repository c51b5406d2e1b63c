/** Earlier versions of the list: who changed what, and the list as it stood then with what was expected. */
import { useState } from 'preact/hooks'
import type { TargetVersionsAnswer } from '../../../services/http/program-shapes.ts'
import { pointsQuestion, targetVersionsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Fold } from '../../parts/fold.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { programWords as words } from '../../text/programs.ts'
import { editWords, groupWords, headWords, nightsWords } from '../../text/target-list.ts'
import { dayAndClock, dayName } from '../../text/times.ts'

interface VersionsProps {
  readonly programId: number
  /** Of the list shown: with another one they are asked for again. */
  readonly version: number
}

export function Versions({ programId, version }: VersionsProps) {
  const [open, setOpen] = useState(false)
  return (
    <Fold head={<span>{words.versions}</span>} open={open} turned={setOpen}>
      <Kept programId={programId} key={version} />
    </Fold>
  )
}

function Kept({ programId }: { readonly programId: number }) {
  const { answer, failure, reload } = useAnswer(targetVersionsQuestion(programId))
  const points = useAnswer(pointsQuestion)
  const nameOf = (pointId: number) =>
    points.answer?.points.find(({ id }) => id === pointId)?.name ?? words.somePoint(pointId)
  return (
    <>
      {answer === null && failure === null && <Skeleton shape="line" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      <ol class="versions">
        {answer?.versions.map((kept) => (
          <li key={kept.at + kept.version}>
            <details>
              <summary>
                <span>
                  <strong>{words.version(kept.version)}</strong>, {dayAndClock(kept.at)}, {kept.who}:{' '}
                  {editWords(kept.edit, nameOf)}
                </span>
              </summary>
              <AsItStood kept={kept} />
            </details>
          </li>
        ))}
      </ol>
    </>
  )
}

function AsItStood({ kept }: { readonly kept: TargetVersionsAnswer['versions'][number] }) {
  if (kept.lines.length === 0) return <p class="small">{words.noLines.what}</p>
  return (
    <>
      <p class="small">{words.restedOn(dayName(kept.nights.from), dayName(kept.nights.to))}</p>
      <ol class="kept-lines">
        {kept.lines.map((line, i) => (
          <li key={line.pointId}>
            {i + 1} <strong>{line.name}</strong>
            {line.byHand && ` (${words.byHand})`}: {headWords(line)}; {nightsWords(line)}; {groupWords(line)}
            {line.note !== null && `; ${line.note}`}
          </li>
        ))}
      </ol>
    </>
  )
}
