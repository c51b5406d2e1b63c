/** Trips that are needed, on the Water run until somebody has done them. */
import { useReloadOnChange } from '../api/changes.ts'
import { jobsQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { useReloadOnTaken, useYardOut } from '../screens/yard/use-yard-out.ts'
import { jobEntryWords, jobWords as words } from '../text/jobs.ts'
import { JobCard } from './job-card.tsx'

export function JobsBlock() {
  const { answer, failure, reload } = useAnswer(jobsQuestion({}))
  useReloadOnChange(reload)
  useReloadOnTaken(reload)
  const { entries } = useYardOut()
  const jobs = answer?.jobs ?? []
  // One whose answer was lost waits here though the service has it.
  const waiting = entries.flatMap((entry) =>
    entry.to === 'jobs' && !jobs.some(({ id }) => id === entry.body.id) ? [entry] : [],
  )
  if (failure !== null && answer === null) return <p class="stale">{words.failed}</p>
  if (jobs.length + waiting.length === 0) return null
  return (
    <section class="jobs-block" aria-labelledby="jobs">
      <h2 id="jobs">{words.jobsHead(jobs.length + waiting.length)}</h2>
      <ul class="jobs">
        {waiting.map((entry) => (
          <li class="job" key={entry.body.id}>
            <p>
              {jobEntryWords(entry)}: {words.waits}
            </p>
          </li>
        ))}
        {jobs.map((job) => (
          <JobCard job={job} key={job.id} />
        ))}
      </ul>
    </section>
  )
}
