/** "Needs a trip": from a photo, what is wrong there and whose job it is. */
import { useState } from 'preact/hooks'
import type { Trouble } from '../../../services/tally/job-words.ts'
import { failed } from '../../api/ask.ts'
import { jobsQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { newUuid } from '../../api/uuid.ts'
import { putYardEntry } from '../../api/yard-out.ts'
import { ButtonsChoice } from '../../parts/buttons-choice.tsx'
import { Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { Icon } from '../../parts/icon.tsx'
import { JobCard } from '../../parts/job-card.tsx'
import { Spoken } from '../../parts/notice.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { whoSays } from '../../parts/who.ts'
import { troubleChoices, jobWords as words } from '../../text/jobs.ts'
import { useReloadOnTaken } from '../yard/use-yard-out.ts'

export function NeedsTrip({ stillId }: { readonly stillId: number }) {
  const [open, setOpen] = useState(false)
  const [said, setSaid] = useState('')
  const { answer, reload } = useAnswer(jobsQuestion({ still: stillId }))
  useReloadOnTaken(reload)
  return (
    <section class="needs-trip">
      {!open && (
        <div class="button-row">
          <button
            type="button"
            class="button"
            onClick={() => {
              setOpen(true)
              setSaid('')
            }}
          >
            <Icon name="run" />
            {words.needsTrip}
          </button>
        </div>
      )}
      {open && (
        <TripForm
          stillId={stillId}
          close={(what) => {
            setOpen(false)
            setSaid(what)
          }}
        />
      )}
      <Spoken words={said} />
      <ul class="jobs">
        {answer?.jobs.map((job) => (
          <JobCard job={job} key={job.id} />
        ))}
      </ul>
    </section>
  )
}

function TripForm({ stillId, close }: { readonly stillId: number; readonly close: (said: string) => void }) {
  const form = useForm()
  const [trouble, setTrouble] = useState<Trouble>('trough leak')
  const fields = useFields({ note: '', person: '' })
  const submit = async () => {
    const note = fields.typed.note.trim()
    const person = fields.typed.person.trim()
    if (trouble === 'other' && note === '') throw failed('note', words.noteNeeded)
    const body = { id: newUuid(), stillId, trouble, who: whoSays() }
    putYardEntry({
      to: 'jobs',
      body: { ...body, ...(note !== '' && { note }), ...(person !== '' && { person }) },
    })
    close(words.saved)
  }
  return (
    <Form
      form={form}
      label={words.needsTrip}
      button={words.save}
      fields={fields.names}
      submit={submit}
      cancel={() => close('')}
    >
      <ButtonsChoice legend={words.trouble} choices={troubleChoices} value={trouble} change={setTrouble} />
      <Field label={words.note} {...fields.of('note')} />
      <Field label={words.person} hint={words.personHint} {...fields.of('person')} />
    </Form>
  )
}
