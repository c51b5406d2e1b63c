/** Blind look: photos drawn by lot, one look after the other, and a word on each before the machine's is shown. */
import { useEffect, useState } from 'preact/hooks'
import type { LookRecorded, OpenLook } from '../../services/http/audit-shapes.ts'
import { auditsQuestion, openLooksQuestion } from '../api/questions.ts'
import { useAnswer } from '../api/use-answer.ts'
import { EmptyNotice, FailedNotice, Skeleton, Spoken } from '../parts/notice.tsx'
import { Screen } from '../parts/screen.tsx'
import { auditWords, blindLookWords as words } from '../text/blind-look.ts'
import { LooksAWeek } from './blind-look/looks-a-week.tsx'
import { OneLook } from './blind-look/one-look.tsx'
import { Told } from './blind-look/told.tsx'

export function BlindLookScreen() {
  const { answer, failure, reload } = useAnswer(openLooksQuestion)
  // A look that is told stays on the page until the person goes on, whatever is asked for next.
  const [told, setTold] = useState<{ readonly look: OpenLook; readonly answer: LookRecorded } | null>(null)
  const [spoken, setSpoken] = useState('')
  const look = answer?.looks.find(({ id }) => id !== told?.look.id) ?? null
  const open = (answer?.open ?? 0) - (answer?.looks.some(({ id }) => id === told?.look.id) ? 1 : 0)
  return (
    <Screen
      title={words.title}
      kind="blind-look"
      aside={answer !== null && open > 0 && <p class="tag">{words.open(open)}</p>}
    >
      <p>{words.lead}</p>
      {answer === null && failure === null && <Skeleton shape="photo" />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      <Spoken words={spoken} />
      {told !== null && (
        <Told
          lookId={told.look.id}
          told={told.answer}
          hasNext={look !== null}
          next={() => {
            setTold(null)
            setSpoken('')
          }}
          takenBack={() => {
            setTold(null)
            setSpoken(words.takenBack)
            reload()
          }}
        />
      )}
      {told === null && look !== null && (
        <OneLook
          look={look}
          recorded={(recorded) => {
            setTold({ look, answer: recorded })
            reload()
          }}
          key={look.id}
        />
      )}
      {told === null && answer !== null && look === null && (
        <EmptyNotice words={words.none} href="/how-right" />
      )}
      <Weeks open={open} />
    </Screen>
  )
}

function Weeks({ open }: { readonly open: number }) {
  const { answer, reload } = useAnswer(auditsQuestion)
  // With each look that is told, one more has been looked at.
  useEffect(() => void reload(), [open])
  if (answer === null) return null
  return (
    <section aria-labelledby="weeks-head">
      <h2 id="weeks-head">{words.weeks}</h2>
      {answer.audits.length === 0 ? (
        <p>{words.noWeeks(answer.next.drawnFrom)}</p>
      ) : (
        <ul class="plain-list">
          {answer.audits.map((audit) => (
            <li key={audit.id}>{auditWords(audit)}</li>
          ))}
        </ul>
      )}
      <LooksAWeek looksAWeek={answer.looksAWeek} saved={reload} />
      <p>
        <a class="button" href="/how-right">
          {words.howRight}
        </a>
      </p>
    </section>
  )
}
