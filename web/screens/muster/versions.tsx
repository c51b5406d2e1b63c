/** Earlier figures: nothing that was given is lost, and any of it can be taken up again. */
import { useState } from 'preact/hooks'
import { useLocation } from 'preact-iso'
import type { MusterAnswerShape } from '../../../services/http/muster-shapes.ts'
import { Fold } from '../../parts/fold.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { versionWords, musterWords as words } from '../../text/muster.ts'
import { saveFigures } from './save-figures.ts'

interface EarlierProps {
  readonly answer: MusterAnswerShape
  readonly reload: () => void
}

/** Whose figures these are, where they do not stand any more. */
export function EarlierNotice({ answer, reload }: EarlierProps) {
  const form = useForm()
  const { route } = useLocation()
  const { version, standing } = answer
  if (version === null || version.version === standing) return null
  const takeUp = () =>
    form.submit(async () => {
      await saveFigures(answer, answer.figures, `figures ${version.version} again`)
      reload()
      route('/muster')
    })
  return (
    <div class="notice">
      <div>
        <p class="notice-what">
          {words.versions}: {versionWords(version)}
        </p>
        <p>
          <a href="/muster">{words.seeStanding}</a>
        </p>
        <button type="button" class="button" onClick={takeUp} disabled={form.sending}>
          {words.takeUp}
        </button>
        {form.failure !== null && <FailedNotice failure={form.failure} />}
      </div>
    </div>
  )
}

export function Versions({ answer }: { readonly answer: MusterAnswerShape }) {
  const [open, setOpen] = useState(false)
  const earlier = answer.versions.slice(1)
  if (earlier.length === 0) return null
  return (
    <section class="muster-versions" aria-label={words.versions}>
      <Fold head={<h2>{words.versions}</h2>} open={open} turned={setOpen}>
        <ul>
          {earlier.map((one) => (
            <li key={one.version}>
              <a class="tall-link" href={`/muster?version=${one.version}`}>
                {versionWords(one)}
              </a>
            </li>
          ))}
        </ul>
      </Fold>
    </section>
  )
}
