/** Machines that look at photos: those that joined, and the keys they join with. */
import { useState } from 'preact/hooks'
import type { WorkerAnswer, WorkerKeyAnswer, WorkerKeyMade } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { workersQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FactChip } from '../../parts/fact.tsx'
import { Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { machineDone, machineState, startLine, machineWords as words } from '../../text/machines.ts'
import { KeyShown } from './key-shown.tsx'
import { RevokeKey } from './revoke-key.tsx'

const POLL_MS = 15_000

export function MachineSetup() {
  const { answer, failure, reload } = useAnswer(workersQuestion, POLL_MS)
  const [shown, setShown] = useState<WorkerKeyMade | null>(null)
  if (answer === null) {
    return failure === null ? (
      <Skeleton shape="line" count={3} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  }
  const made = (key: WorkerKeyMade) => {
    setShown(key)
    reload()
  }
  return (
    <>
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      <p>{answer.expected ? words.hint : words.alone}</p>
      {answer.expected && answer.workers.length === 0 && <EmptyNotice words={words.none} />}
      <ul class="setup-list">
        {answer.workers.map((machine) => (
          <Machine machine={machine} now={answer.now} key={machine.id} />
        ))}
      </ul>
      {shown !== null && (
        <KeyShown
          title={words.keyTitle(shown.workerKey.name)}
          once={words.keyOnce}
          secret={shown.key}
          lineHint={words.startLine}
          line={startLine(location.origin, shown.key)}
          close={() => setShown(null)}
        />
      )}
      {(answer.expected || answer.keys.length > 0) && <Keys keys={answer.keys} changed={reload} />}
      {answer.expected && <KeyForm made={made} />}
    </>
  )
}

function Machine({ machine, now }: { readonly machine: WorkerAnswer; readonly now: string }) {
  return (
    <li class="setup-item">
      <p>
        <strong>{machine.name}</strong>
        <small>{machineDone(machine)}</small>
        <small>
          Hooftally {machine.version}, {words.withKey(machine.keyName)}
        </small>
      </p>
      <FactChip
        fact={{ tone: machine.atWork ? 'well' : 'plain', words: machineState(machine, now) }}
        icon={machine.atWork ? 'tick' : 'clock'}
      />
    </li>
  )
}

interface KeysProps {
  readonly keys: readonly WorkerKeyAnswer[]
  readonly changed: () => void
}

function Keys({ keys, changed }: KeysProps) {
  return (
    <>
      <h4>{words.keys}</h4>
      {keys.length === 0 && <p>{words.noKeys}</p>}
      <ul class="setup-list">
        {keys.map((key) => (
          <li class="setup-item" key={key.id}>
            <p>
              <strong>{key.name}</strong>
              <small>{words.keyHint(key.keyHint)}</small>
            </p>
            <RevokeKey workerKey={key} revoked={changed} />
          </li>
        ))}
      </ul>
    </>
  )
}

function KeyForm({ made }: { readonly made: (key: WorkerKeyMade) => void }) {
  const form = useForm()
  const { typed, names, of } = useFields({ name: '' })
  const submit = async () => {
    made(await tell<WorkerKeyMade>('POST', '/api/workers/keys', typed))
    of('name').change('')
  }
  return (
    <Form form={form} label={words.make} button={words.make} fields={names} submit={submit}>
      <Field label={words.keyName} {...of('name')} hint={words.keyNameHint} required />
    </Form>
  )
}
