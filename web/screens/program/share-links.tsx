/** Links to the list that need no account: made, shown once, listed, ended. */
import { useState } from 'preact/hooks'
import type { ShareLink } from '../../../services/http/program-shapes.ts'
import { tell } from '../../api/ask.ts'
import { shareLinksQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Choice, Field } from '../../parts/field.tsx'
import { Form } from '../../parts/form.tsx'
import { FailedNotice, Skeleton, Spoken } from '../../parts/notice.tsx'
import { Sure } from '../../parts/sure.tsx'
import { useFields } from '../../parts/use-fields.ts'
import { useForm } from '../../parts/use-form.ts'
import { whoSays } from '../../parts/who.ts'
import { linkStands, linkWords as words } from '../../text/links.ts'

const DAYS = words.daysChoices.map((days) => ({ value: String(days), words: words.daysWords(days) }))
const USUAL_DAYS = 14
const LOOPBACK = /^(localhost|127(\.\d+){3}|\[::1\])$/

export function ShareLinks({ programId }: { readonly programId: number }) {
  const { answer, failure, reload } = useAnswer(shareLinksQuestion(programId))
  const [made, setMade] = useState<string | null>(null)
  const form = useForm()
  const { typed, names, of } = useFields({ forWhom: '', days: String(USUAL_DAYS) })
  const submit = async () => {
    const { path } = await tell<{ path: string }>('POST', `/api/programs/${programId}/links`, {
      days: Number(typed.days),
      forWhom: typed.forWhom,
      who: whoSays(),
    })
    setMade(new URL(path, location.origin).href)
    reload()
  }
  return (
    <section class="links" id="links" aria-labelledby="links-head">
      <h3 id="links-head">{words.title}</h3>
      <p>{words.lead}</p>
      {LOOPBACK.test(location.hostname) && <p class="small">{words.onlyHere}</p>}
      <Form form={form} label={words.title} button={words.make} fields={names} submit={submit}>
        <div class="field-pair">
          <Field label={words.forWhom} {...of('forWhom')} />
          <Choice label={words.days} {...of('days')} choices={DAYS} />
        </div>
      </Form>
      {made !== null && <Made address={made} />}
      {answer === null && failure === null && <Skeleton shape="line" count={2} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer?.links.length === 0 && <p class="small">{words.none}</p>}
      <ul class="plain-list">
        {answer?.links.map((link) => (
          <LinkRow link={link} changed={reload} key={link.id} />
        ))}
      </ul>
    </section>
  )
}

function Made({ address }: { readonly address: string }) {
  const [copied, setCopied] = useState(false)
  const copy = async () => {
    await navigator.clipboard.writeText(address)
    setCopied(true)
  }
  return (
    <div class="new-key link-made">
      <p>{words.made}</p>
      <p>
        <a href={address} class="link-address">
          {address}
        </a>
      </p>
      <div class="button-row">
        {/* Browsers have a clipboard and a share sheet in secure contexts only. */}
        {'clipboard' in navigator && (
          <button type="button" class="button button-strong" onClick={copy}>
            {words.copy}
          </button>
        )}
        {'share' in navigator && (
          <button
            type="button"
            class="button"
            // Whoever closes the sheet without sending has decided; that is no fault.
            onClick={() => navigator.share({ url: address }).catch(() => undefined)}
          >
            {words.send}
          </button>
        )}
      </div>
      <Spoken words={copied ? words.copied : ''} />
    </div>
  )
}

function LinkRow({ link, changed }: { readonly link: ShareLink; readonly changed: () => void }) {
  const form = useForm()
  const act = async () => {
    await tell('POST', `/api/share-links/${link.id}/end`, {})
    changed()
  }
  return (
    <li class="link-row">
      <p>
        <strong>{link.forWhom ?? words.anyone}</strong> <small>{linkStands(link)}</small>
      </p>
      {link.ended === null && (
        <Sure form={form} warns={words.endWarns} yes={words.endYes} act={act}>
          {words.end}
        </Sure>
      )}
    </li>
  )
}
