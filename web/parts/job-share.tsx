/** A job as text: handed to another app (W3C Web Share), copied, or begun as a mail (RFC 6068). */
import { useState } from 'preact/hooks'
import type { Job } from '../../services/http/yard-shapes.ts'
import { jobMail, jobText, jobTitle, jobWords as words } from '../text/jobs.ts'

export function JobShare({ job }: { readonly job: Job }) {
  const [copied, setCopied] = useState<'no' | 'yes' | 'refused'>('no')
  const text = jobText(job, location.origin)
  // On plain http browsers let a page neither share nor copy.
  const shares = typeof navigator.share === 'function'
  const copy = () =>
    Promise.resolve(navigator.clipboard)
      .then((clipboard) => clipboard.writeText(text))
      .then(
        () => setCopied('yes'),
        () => setCopied('refused'),
      )
  return (
    <>
      {shares && (
        <button
          type="button"
          class="button"
          onClick={() => {
            // A person who closes the sheet has not failed at anything.
            void navigator.share({ title: jobTitle(job), text }).catch(() => undefined)
          }}
        >
          {words.share}
        </button>
      )}
      <button type="button" class="button" onClick={copy}>
        {words.copy}
      </button>
      <a class="button" href={jobMail(job, location.origin)}>
        {words.mail}
      </a>
      <p class="spoken" role="status">
        {copied === 'yes' ? words.copied : copied === 'refused' ? words.notCopied : ''}
      </p>
      {copied === 'refused' && <pre class="job-text">{text}</pre>}
    </>
  )
}
