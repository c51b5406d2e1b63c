/** Ways in that are not the camera's alone: its card, and the mailbox that it shares with others. */
import type { Camera } from '../../../../services/http/shapes.ts'
import { mailboxesQuestion, withQuery } from '../../../api/questions.ts'
import { useAnswer } from '../../../api/use-answer.ts'
import { ruleLine, mailWords as words } from '../../../text/mail.ts'
import { setupWords } from '../../../text/setup.ts'

export function OtherWays({ camera }: { readonly camera: Camera }) {
  const { answer } = useAnswer(mailboxesQuestion)
  const lines = (answer?.mailboxes ?? []).flatMap((mailbox) =>
    mailbox.rules
      .filter(({ cameraId }) => cameraId === camera.id)
      .map((rule) => ({ key: `${mailbox.id} ${rule.kind} ${rule.words}`, words: ruleLine(mailbox, rule) })),
  )
  return (
    <>
      {lines.map((line) => (
        <p key={line.key}>{line.words}</p>
      ))}
      <div class="button-row">
        <a
          class="button"
          href={withQuery('/card', { camera: camera.id })}
          aria-label={setupWords.cameras.cardOf(camera.name)}
        >
          {setupWords.cameras.card}
        </a>
        <a class="button" href="#mail">
          {words.byMail}
        </a>
      </div>
    </>
  )
}
