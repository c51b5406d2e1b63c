/** A trip that is needed: what, where, whose; done, handed on, not needed; shared; and everything said of it. */
import { useState } from 'preact/hooks'
import type { Job } from '../../services/http/yard-shapes.ts'
import { newUuid } from '../api/uuid.ts'
import type { JobWord } from '../api/yard-entries.ts'
import { putYardEntry } from '../api/yard-out.ts'
import { useYardOut } from '../screens/yard/use-yard-out.ts'
import { jobLine, jobTitle, jobWordLine, jobWords as words } from '../text/jobs.ts'
import { Field } from './field.tsx'
import { Icon } from './icon.tsx'
import { JobShare } from './job-share.tsx'
import { useWho, whoSays } from './who.ts'

export function JobCard({ job }: { readonly job: Job }) {
  const [doing, setDoing] = useState<'done' | 'hand on' | null>(null)
  const [who, setWho] = useWho()
  const [person, setPerson] = useState('')
  const { entries } = useYardOut()
  const waits = entries.some((entry) => entry.to === 'job' && entry.jobId === job.id)
  const say = (word: JobWord['word'], given: Partial<JobWord> = {}) => {
    putYardEntry({ to: 'job', jobId: job.id, body: { id: newUuid(), word, who: whoSays(), ...given } })
    setDoing(null)
  }
  return (
    <li class={`job ${job.open ? '' : 'job-ended'}`}>
      {job.photo !== null && (
        <a href={`/photos/${job.photo.stillId}`}>
          <img
            src={job.photo.smallUrl}
            alt={words.photo}
            width="16"
            height="9"
            loading="lazy"
            decoding="async"
          />
        </a>
      )}
      <div class="job-words">
        <h3>
          <a href={`/points/${job.pointId}`}>{jobTitle(job)}</a>
        </h3>
        <p class="small">{jobLine(job)}</p>
        {job.ended !== null && <p>{jobWordLine({ ...job.ended, person: null, note: null })}</p>}
        {waits && <p class="small">{words.waits}</p>}
        {doing === null && (
          <div class="button-row">
            {job.open ? (
              <button type="button" class="button" onClick={() => setDoing('done')}>
                <Icon name="tick" />
                {words.done}
              </button>
            ) : (
              <button type="button" class="button" onClick={() => say('open again')}>
                {words.openAgain}
              </button>
            )}
            <JobShare job={job} />
          </div>
        )}
        {doing === 'done' && (
          <div class="job-doing">
            <Field label={words.doneBy} name="who" value={who} change={setWho} />
            <div class="button-row">
              <button type="button" class="button button-strong" onClick={() => say('done')}>
                {words.confirmDone}
              </button>
              <button type="button" class="button" onClick={() => setDoing(null)}>
                {words.cancel}
              </button>
            </div>
          </div>
        )}
        {doing === 'hand on' && (
          <div class="job-doing">
            <Field label={words.handOnTo} name="person" value={person} change={setPerson} />
            <div class="button-row">
              <button
                type="button"
                class="button button-strong"
                disabled={person.trim() === ''}
                onClick={() => say('handed on', { person: person.trim() })}
              >
                {words.handOnSave}
              </button>
              <button type="button" class="button" onClick={() => setDoing(null)}>
                {words.cancel}
              </button>
            </div>
          </div>
        )}
        <details class="other-states">
          <summary>{words.more}</summary>
          {job.open && doing === null && (
            <div class="button-row">
              <button type="button" class="button" onClick={() => setDoing('hand on')}>
                {words.handOn}
              </button>
              <button type="button" class="button" onClick={() => say('not needed')}>
                {words.notNeeded}
              </button>
            </div>
          )}
          <ol class="job-history" aria-label={words.history}>
            {job.words.map((word) => (
              <li key={`${word.at} ${word.word}`}>{jobWordLine(word)}</li>
            ))}
          </ol>
        </details>
      </div>
    </li>
  )
}
