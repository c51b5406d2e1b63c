/** Photos by mail: the mailboxes, how each does, and the mails that were left in them. */
import { useState } from 'preact/hooks'
import type { Mailbox } from '../../../services/http/mail-shapes.ts'
import type { Camera } from '../../../services/http/shapes.ts'
import { tell } from '../../api/ask.ts'
import { mailboxesQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { FactChip } from '../../parts/fact.tsx'
import { EmptyNotice, FailedNotice, Skeleton } from '../../parts/notice.tsx'
import { Opener } from '../../parts/opener.tsx'
import { Sure } from '../../parts/sure.tsx'
import { useForm } from '../../parts/use-form.ts'
import { broughtLine, leftLine, mailboxFact, whereLine, mailWords as words } from '../../text/mail.ts'
import { setupWords } from '../../text/setup.ts'
import { MailboxForm } from './mail/mailbox-form.tsx'
import { TryMailbox } from './mail/try-mailbox.tsx'

const POLL_MS = 15_000

export function MailSetup({ cameras }: { readonly cameras: readonly Camera[] }) {
  const { answer, failure, reload } = useAnswer(mailboxesQuestion, POLL_MS)
  const [editing, setEditing] = useState<number | 'new' | null>(null)
  const [left, setLeft] = useState<number | 'new' | null>(null)
  const close = () => {
    setLeft(editing)
    setEditing(null)
  }
  const done = () => {
    close()
    reload()
  }
  if (answer === null) {
    return failure === null ? (
      <Skeleton shape="line" count={3} />
    ) : (
      <FailedNotice failure={failure} again={reload} />
    )
  }
  return (
    <>
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      <p class="hint">{words.hint}</p>
      {answer.mailboxes.length === 0 && (
        <EmptyNotice words={cameras.length === 0 ? words.needCamera : words.none} />
      )}
      <ul class="setup-list">
        {answer.mailboxes.map((mailbox) => (
          <li key={mailbox.id}>
            {editing === mailbox.id ? (
              <MailboxForm mailbox={mailbox} cameras={cameras} done={done} cancel={close} />
            ) : (
              <OneMailbox
                mailbox={mailbox}
                edit={() => setEditing(mailbox.id)}
                back={left === mailbox.id}
                changed={reload}
              />
            )}
          </li>
        ))}
      </ul>
      {editing === 'new' ? (
        <MailboxForm mailbox={null} cameras={cameras} done={done} cancel={close} />
      ) : (
        cameras.length > 0 && (
          <Opener
            strong={answer.mailboxes.length === 0}
            back={left === 'new'}
            press={() => setEditing('new')}
          >
            {words.add}
          </Opener>
        )
      )}
    </>
  )
}

interface OneMailboxProps {
  readonly mailbox: Mailbox
  readonly edit: () => void
  /** The keyboard comes back to the button that opened the form. */
  readonly back: boolean
  readonly changed: () => void
}

function OneMailbox({ mailbox, edit, back, changed }: OneMailboxProps) {
  const form = useForm()
  const fact = mailboxFact(mailbox)
  const remove = async () => {
    await tell('DELETE', `/api/mailboxes/${mailbox.id}`, {})
    changed()
  }
  return (
    <div class="mailbox">
      <div class="setup-item">
        <p>
          <strong>{mailbox.name}</strong>
          <small>{whereLine(mailbox)}</small>
          <small>{broughtLine(mailbox)}</small>
        </p>
        <FactChip
          fact={fact}
          icon={fact.tone === 'well' ? 'tick' : fact.tone === 'alarm' ? 'alarm' : 'clock'}
        />
      </div>
      {mailbox.isOn && mailbox.lastReason !== null && <p class="wrong">{mailbox.lastReason}</p>}
      <TryMailbox mailbox={mailbox} tried={changed}>
        <Opener label={words.changeOne(mailbox.name)} back={back} press={edit}>
          {setupWords.change}
        </Opener>
        <Sure
          form={form}
          label={words.removeOf(mailbox.name)}
          warns={words.removeWarns}
          yes={words.removeYes}
          act={remove}
        >
          {words.remove}
        </Sure>
      </TryMailbox>
      {mailbox.left.count > 0 && <MailsLeft left={mailbox.left} />}
    </div>
  )
}

function MailsLeft({ left: { count, latest } }: { readonly left: Mailbox['left'] }) {
  return (
    <div class="mails-left">
      <h4>
        {words.leftTitle}: {count.toLocaleString('en-AU')}
      </h4>
      <ul class="setup-list">
        {latest.map((mail, i) => (
          <li key={i}>
            <p>
              <strong>{mail.subject || words.noSubject}</strong>
              <small>{mail.sender}</small>
              <small>{leftLine(mail)}</small>
            </p>
          </li>
        ))}
      </ul>
      {count > latest.length && <p class="small">{words.moreLeft(count - latest.length)}</p>}
    </div>
  )
}
