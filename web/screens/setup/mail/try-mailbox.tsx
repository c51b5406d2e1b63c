/** "Try it now": the last mails, whose each is, and the photo that came; or the exact reason why not. */
import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import type { Mailbox, MailboxTry } from '../../../../services/http/mail-shapes.ts'
import { tell } from '../../../api/ask.ts'
import { FailedNotice, Spoken } from '../../../parts/notice.tsx'
import { useForm } from '../../../parts/use-form.ts'
import { mailWords as words } from '../../../text/mail.ts'
import { dayAndClock } from '../../../text/times.ts'

interface TryMailboxProps {
  readonly mailbox: Mailbox
  readonly tried: () => void
  /** Other buttons of the mailbox. */
  readonly children: ComponentChildren
}

export function TryMailbox({ mailbox, tried, children }: TryMailboxProps) {
  const form = useForm()
  const [answer, setAnswer] = useState<MailboxTry | null>(null)
  const go = () =>
    form.submit(async () => {
      setAnswer(null)
      setAnswer(await tell<MailboxTry>('POST', `/api/mailboxes/${mailbox.id}/try`, {}))
      tried()
    })
  return (
    <div class="mail-try">
      <div class="button-row">
        <button
          type="button"
          class="button"
          aria-label={words.tryOf(mailbox.name)}
          onClick={go}
          disabled={form.sending}
        >
          {words.tryNow}
        </button>
        {children}
      </div>
      {form.sending && <Spoken words={words.trying} />}
      {form.failure !== null && <FailedNotice failure={form.failure} />}
      {answer !== null && <Tried answer={answer} />}
    </div>
  )
}

function Tried({ answer: { fault, mails, latest } }: { readonly answer: MailboxTry }) {
  if (fault !== null)
    return <FailedNotice failure={{ what: fault.reason, remedy: fault.remedy, field: null, status: null }} />
  return (
    <>
      <Spoken words={words.tried(mails)} />
      <ul class="setup-list">
        {latest.map(({ sender, subject, at, cameraName, reason, stills }, i) => (
          <li key={i} class="mail-tried">
            <p>
              <strong>{subject || words.noSubject}</strong>
              <small>
                {sender}
                {at !== null && `, ${dayAndClock(at)}`}
              </small>
              <small>
                {[cameraName, reason ?? (stills.length === 0 ? words.notTaken : null)]
                  .filter(Boolean)
                  .join(': ')}
              </small>
            </p>
            {stills.map((still) =>
              still.state === 'unreadable' ? (
                <p class="wrong" key={still.id}>
                  {still.reason}
                </p>
              ) : (
                <a href={`/photos/${still.id}`} key={still.id} class="mail-photo">
                  <img src={still.smallUrl} alt={`${cameraName}, ${dayAndClock(still.takenAt)}`} />
                  <small>{dayAndClock(still.takenAt)}</small>
                </a>
              ),
            )}
          </li>
        ))}
      </ul>
    </>
  )
}
