/** How the service is, in plain words, with the models that count and their hashes. */
import { useState } from 'preact/hooks'
import { healthQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FactChip } from '../../parts/fact.tsx'
import { Fold } from '../../parts/fold.tsx'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { ProgressStrip } from '../../parts/progress-strip.tsx'
import { diskWords, eyeWords, queueWords, setupWords } from '../../text/setup.ts'

const words = setupWords.health
const POLL_MS = 10_000

export function HealthPart() {
  const { answer, failure, reload } = useAnswer(healthQuestion, POLL_MS)
  const [opened, setKeeper] = useState<boolean | null>(null)
  if (answer === null) {
    return failure === null ? (
      <Skeleton shape="line" count={4} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  }
  const { models } = answer
  // A database or a store of photos that is away says so in there.
  const keeper = opened ?? !(answer.database.ok && answer.stills.ok)
  return (
    <>
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      <FactChip
        fact={answer.ok ? { tone: 'well', words: words.well } : { tone: 'alarm', words: words.unwell }}
        icon={answer.ok ? 'tick' : 'alarm'}
      />
      <ProgressStrip progress={answer.progress} />
      <dl class="about">
        <dt>{words.waiting}</dt>
        <dd>{queueWords(answer.queue)}</dd>
        <dt>{words.eye}</dt>
        <dd>{eyeWords(answer)}</dd>
        <dt>{words.disk}</dt>
        <dd>{diskWords(answer.disk)}</dd>
      </dl>
      <Fold head={words.keeper} open={keeper} turned={setKeeper}>
        <dl class="about">
          <dt>{words.version}</dt>
          <dd>{answer.version}</dd>
          <dt>{words.database}</dt>
          <dd>{answer.database.detail}</dd>
          <dt>{words.stills}</dt>
          <dd>{answer.stills.detail}</dd>
          <dt>{words.models}</dt>
          <dd>
            {models.name} {models.version}
            <code class="hash">{models.detectorSha256}</code>
            {models.namerSha256 !== null && <code class="hash">{models.namerSha256}</code>}
          </dd>
        </dl>
      </Fold>
    </>
  )
}
