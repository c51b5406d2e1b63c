/** Counts from notebooks: files in, what stands, and withdrawing. */
import { useState } from 'preact/hooks'
import type { PastCountFile } from '../../../services/http/past-count-shapes.ts'
import { tell, tellFile } from '../../api/ask.ts'
import { pastCountFilesQuestion, withQuery } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Field } from '../../parts/field.tsx'
import { FileButton } from '../../parts/file-button.tsx'
import { FailedNotice, Skeleton, Spoken } from '../../parts/notice.tsx'
import { Sure } from '../../parts/sure.tsx'
import { useForm } from '../../parts/use-form.ts'
import { useWho, whoSays } from '../../parts/who.ts'
import { fileLine, pastCountWords, withdrawnLine } from '../../text/past-counts.ts'

const words = pastCountWords.setup

export function PastCountSetup() {
  const { answer, failure, reload } = useAnswer(pastCountFilesQuestion)
  if (answer === null) {
    return failure === null ? (
      <Skeleton shape="line" count={2} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  }
  return (
    <>
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      <p class="hint">{words.hint}</p>
      {answer.files.length === 0 && <p>{words.none}</p>}
      <ul class="setup-list">
        {answer.files.map((file) => (
          <OneFile file={file} changed={reload} key={file.id} />
        ))}
      </ul>
      <NewFile loaded={reload} />
    </>
  )
}

interface OneFileProps {
  readonly file: PastCountFile
  readonly changed: () => void
}

function OneFile({ file, changed }: OneFileProps) {
  const form = useForm()
  const withdraw = async () => {
    await tell('DELETE', withQuery(`/api/past-counts/${file.id}`, { who: whoSays() }), {})
    changed()
  }
  return (
    <li class="setup-item">
      <p>
        <strong>{file.name}</strong>
        <small>{fileLine(file)}</small>
        {file.withdrawnAt !== null && <small>{withdrawnLine(file)}</small>}
      </p>
      {file.withdrawnAt === null && (
        <Sure
          form={form}
          label={words.withdrawOf(file.name)}
          warns={words.withdrawWarns}
          yes={words.withdrawYes}
          act={withdraw}
        >
          {words.withdraw}
        </Sure>
      )}
    </li>
  )
}

function NewFile({ loaded }: { readonly loaded: () => void }) {
  const form = useForm()
  const [who, setWho] = useWho()
  const [said, setSaid] = useState('')
  const load = async (file: File | undefined) => {
    setSaid('')
    if (file === undefined) return
    if (!/\.(csv|txt)$/i.test(file.name)) {
      form.fail({ ...words.wrongFile, field: null, status: null })
      return
    }
    await form.submit(async () => {
      const path = withQuery('/api/past-counts', { name: file.name, who: whoSays() })
      const { file: taken, known } = await tellFile<{ file: PastCountFile; known: boolean }>(
        path,
        'text/csv',
        await file.text(),
      )
      setSaid(known ? words.known : words.taken(taken.counts))
      loaded()
    })
  }
  return (
    <div class="points-file">
      <Field label={words.who} name="who" value={who} change={setWho} />
      <p class="hint" id="past-counts-hint">
        {words.columns}
      </p>
      <FileButton
        words={words.choose}
        accept=".csv,.txt"
        describedBy="past-counts-hint"
        sending={form.sending}
        load={load}
      />
      <Spoken words={said} />
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </div>
  )
}
