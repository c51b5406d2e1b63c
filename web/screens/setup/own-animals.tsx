/** This station's own animals: what was learnt from checks, how its trial went, on and off, and kinds of one's own. */
import type { KindsAnswer, NamersAnswer } from '../../../services/http/own-animal-shapes.ts'
import { tell } from '../../api/ask.ts'
import { namersQuestion, ownKindsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { Sure } from '../../parts/sure.tsx'
import { useForm } from '../../parts/use-form.ts'
import { kindTitle, learntFromWords, standingWords, ownAnimalWords as words } from '../../text/own-animals.ts'
import { NameAgain } from './name-again.tsx'
import { NotHere } from './not-here.tsx'
import { OwnKinds } from './own-kinds.tsx'
import { SavedTick } from './saved-tick.tsx'
import { TrialTold } from './trial-told.tsx'

const POLL_MS = 15_000

export function OwnAnimalSetup() {
  const namers = useAnswer(namersQuestion, POLL_MS)
  const kinds = useAnswer(ownKindsQuestion)
  const failed = namers.failure === null ? kinds : namers
  if (namers.answer === null || kinds.answer === null) {
    return failed.failure === null ? (
      <Skeleton shape="line" count={4} />
    ) : (
      <FailedNotice failure={failed.failure} again={failed.reload} />
    )
  }
  const changed = async () => {
    await Promise.all([namers.reload(), kinds.reload()])
  }
  return (
    <>
      {failed.failure !== null && <FailedNotice failure={failed.failure} again={failed.reload} />}
      {namers.answer.canLearn ? <Learnt namers={namers.answer} changed={changed} /> : <p>{words.cannot}</p>}
      <Kinds kinds={kinds.answer} changed={changed} />
      <h4>{words.trainingSet}</h4>
      <p class="hint">{words.trainingSetHint}</p>
      <a class="button" href="/api/training-set" download>
        {words.download}
      </a>
    </>
  )
}

interface LearntProps {
  readonly namers: NamersAnswer
  readonly changed: () => Promise<void>
}

function Learnt({ namers, changed }: LearntProps) {
  const [latest] = namers.versions
  return (
    <>
      <p class="hint">{words.hint}</p>
      <p class="lead">{standingWords(namers)}</p>
      {latest !== undefined && <TrialTold latest={latest} />}
      <Switch namers={namers} changed={changed} />
      {namers.inUse !== null && <NameAgain key={namers.inUse} />}
      <h4>{words.learntFrom}</h4>
      <ul class="setup-list">
        {namers.ofEach.map((one) => (
          <li class="setup-item" key={one.kind}>
            <p>
              <strong>{kindTitle(one.kind)}</strong>
              <small>{learntFromWords(one, namers.absent)}</small>
            </p>
          </li>
        ))}
      </ul>
      <NotHere absent={namers.absent} changed={changed} />
    </>
  )
}

function Switch({ namers, changed }: LearntProps) {
  const form = useForm()
  const off = useForm()
  const put = async (change: object) => {
    await tell('PUT', '/api/namers', change)
    await changed()
  }
  const [latest] = namers.versions
  const offered = latest !== undefined && latest.verdict === 'take' && latest.version !== namers.inUse
  return (
    <>
      <div class="button-row">
        {namers.isOn && namers.inUse !== null && (
          <Sure form={off} warns={words.turnOffSure} yes={words.turnOffYes} act={() => put({ isOn: false })}>
            {words.turnOff}
          </Sure>
        )}
        {!namers.isOn && (
          <button
            type="button"
            class="button button-strong"
            disabled={form.sending}
            onClick={() => form.submit(() => put({ isOn: true }))}
          >
            {words.turnOn}
          </button>
        )}
        {namers.isOn && offered && (
          <button
            type="button"
            class="button button-strong"
            disabled={form.sending}
            onClick={() => form.submit(() => put({ use: latest.version }))}
          >
            {words.use}
          </button>
        )}
      </div>
      <SavedTick
        form={form}
        label={words.takesNew}
        name="takesNew"
        value={namers.takesNew}
        save={(takesNew) => put({ takesNew })}
      />
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </>
  )
}

function Kinds({ kinds, changed }: { readonly kinds: KindsAnswer; readonly changed: () => void }) {
  return (
    <>
      <h4>{words.kinds}</h4>
      <p class="hint">{words.kindsHint}</p>
      <OwnKinds kinds={kinds.kinds.map(({ name }) => name)} changed={changed} />
    </>
  )
}
