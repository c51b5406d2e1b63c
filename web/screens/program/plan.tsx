/** A program's plan: changed, finished, dropped or taken up again, and everything that was said of it. */
import { useState } from 'preact/hooks'
import type { ProgramHistory } from '../../../services/http/program-shapes.ts'
import { tell } from '../../api/ask.ts'
import { Fold } from '../../parts/fold.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { Opener } from '../../parts/opener.tsx'
import { Sure } from '../../parts/sure.tsx'
import { useForm } from '../../parts/use-form.ts'
import { whoSays } from '../../parts/who.ts'
import { wordLine, programWords as words } from '../../text/programs.ts'
import { ProgramForm } from './program-form.tsx'

interface PlanProps {
  readonly history: ProgramHistory
  readonly changed: () => void
}

export function Plan({ history: { program, words: said }, changed }: PlanProps) {
  const [open, setOpen] = useState(false)
  const [changing, setChanging] = useState<boolean | null>(null)
  const save = async (body: object) => {
    await tell('PATCH', `/api/programs/${program.id}`, body)
    setChanging(false)
    changed()
  }
  return (
    <div class="plan">
      <Fold
        head={<span>{program.overSince === null ? words.planHead : words.planHeadOver}</span>}
        open={open}
        turned={setOpen}
      >
        {program.overSince !== null && <TakeUp id={program.id} changed={changed} />}
        {program.overSince === null &&
          (changing === true ? (
            <ProgramForm
              program={program}
              today={program.madeAt}
              save={save}
              cancel={() => setChanging(false)}
            />
          ) : (
            <div class="button-row">
              <Opener back={changing === false} press={() => setChanging(true)}>
                {words.change}
              </Opener>
              <End id={program.id} word="finished" changed={changed} />
              <End id={program.id} word="dropped" changed={changed} />
            </div>
          ))}
        <h2>{words.history}</h2>
        <ul class="plain-list small">
          {said.toReversed().map((one) => (
            <li key={one.at + one.word}>{wordLine(one)}</li>
          ))}
        </ul>
      </Fold>
    </div>
  )
}

const END = {
  finished: { button: words.finish, warns: words.finishWarns, yes: words.finishYes },
  dropped: { button: words.drop, warns: words.dropWarns, yes: words.dropYes },
} as const

interface EndProps {
  readonly id: number
  readonly word: keyof typeof END
  readonly changed: () => void
}

function End({ id, word, changed }: EndProps) {
  const form = useForm()
  const { button, warns, yes } = END[word]
  const act = async () => {
    await tell('POST', `/api/programs/${id}/words`, { word, who: whoSays() })
    changed()
  }
  return (
    <Sure form={form} warns={warns} yes={yes} act={act}>
      {button}
    </Sure>
  )
}

function TakeUp({ id, changed }: { readonly id: number; readonly changed: () => void }) {
  const form = useForm()
  const act = async () => {
    await tell('POST', `/api/programs/${id}/words`, { word: 'taken up again', who: whoSays() })
    changed()
  }
  return (
    <>
      <button type="button" class="button" disabled={form.sending} onClick={() => form.submit(act)}>
        {words.takeUp}
      </button>
      {form.failure !== null && <FailedNotice failure={form.failure} />}
    </>
  )
}
