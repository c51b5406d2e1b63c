/** The target list of a program: its points in order, what to expect at each, changed by hand, and how it leaves the house. */
import { useState } from 'preact/hooks'
import type { TargetListAnswer } from '../../../services/http/program-shapes.ts'
import type { TargetEdit } from '../../../services/planning/target-list.ts'
import { failureOf, tell } from '../../api/ask.ts'
import { targetListQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { EmptyNotice, FailedNotice, Skeleton, Spoken } from '../../parts/notice.tsx'
import { useForm } from '../../parts/use-form.ts'
import { whoSays } from '../../parts/who.ts'
import { failureWords } from '../../text/failures.ts'
import { restsOn, programWords as words } from '../../text/programs.ts'
import { AddPoint } from './add-point.tsx'
import { ListOutputs } from './list-outputs.tsx'
import { ProgramSafety } from './program-safety.tsx'
import { Round } from './round.tsx'
import type { SectionProps } from './section.ts'
import { ShareLinks } from './share-links.tsx'
import { TargetLines } from './target-lines.tsx'
import { Versions } from './versions.tsx'

/** Says one change of the list; true when it was taken. */
export type SayEdit = (edit: TargetEdit) => Promise<boolean>

const CONFLICT = 409

export function TargetListSection({ program }: SectionProps) {
  const { answer, failure, reload } = useAnswer(targetListQuestion(program.id))
  return (
    <section class="target-list" aria-labelledby="list-head">
      <h2 id="list-head">{words.parts.list}</h2>
      {answer === null && failure === null && <Skeleton shape="row" count={3} />}
      {failure !== null && <FailedNotice failure={failure} again={reload} />}
      {answer !== null && failure !== null && <p class="stale">{failureWords.stale}</p>}
      {/* A list of another version is drawn anew: an order that was not kept belongs to the one before. */}
      {answer !== null && <List list={answer} reload={reload} />}
    </section>
  )
}

function List({ list, reload }: { readonly list: TargetListAnswer; readonly reload: () => void }) {
  const form = useForm()
  const [said, setSaid] = useState('')
  const say: SayEdit = async (edit) => {
    setSaid('')
    const taken = await form.submit(async () => {
      try {
        await tell('POST', `/api/programs/${list.program.id}/target-list`, {
          version: list.version,
          edit,
          who: whoSays(),
        })
      } catch (thrown) {
        // Whoever was later sees what the other did, and says theirs once more.
        if (failureOf(thrown).status === CONFLICT) reload()
        throw thrown
      }
    })
    if (taken) {
      setSaid(words.keptEdit)
      reload()
    }
    return taken
  }
  const open = list.program.overSince === null
  return (
    <>
      <p class="small">
        {restsOn(list)} {words.average}
      </p>
      {list.waiting > 0 && <p class="small">{words.waiting(list.waiting)}</p>}
      <ListOutputs list={list} />
      {form.failure !== null && <FailedNotice failure={form.failure} />}
      {list.lines.length === 0 && <EmptyNotice words={words.noLines} />}
      <TargetLines list={list} say={open ? say : null} reload={reload} key={list.version} />
      <Spoken words={said} />
      {open && list.otherPoints.length > 0 && <AddPoint list={list} say={say} />}
      {list.lines.length > 0 && <Round list={list} say={open ? say : null} />}
      <ProgramSafety />
      <p class="honesty">{words.cantKnow}</p>
      <ShareLinks programId={list.program.id} />
      <Versions programId={list.program.id} version={list.version} />
    </>
  )
}
