/** Who is where, the two forms, and what was entered there. */
import { useState } from 'preact/hooks'
import type { YardFormAnswer } from '../../../services/http/yard-shapes.ts'
import { newUuid } from '../../api/uuid.ts'
import type { YardEntry } from '../../api/yard-entries.ts'
import { stationNow } from '../../api/yard-form.ts'
import { putInstead, putYardEntry } from '../../api/yard-out.ts'
import { ButtonsChoice } from '../../parts/buttons-choice.tsx'
import { Choice, Field } from '../../parts/field.tsx'
import { remember, remembered } from '../../parts/memory.ts'
import { Spoken } from '../../parts/notice.tsx'
import { useWho, whoSays } from '../../parts/who.ts'
import { takenWords, trapEntryWords, yardWords as words } from '../../text/yard.ts'
import { takeAskedRight } from './asked-right.ts'
import { type TakenDraft, takenDraftOf } from './drafts.ts'
import { EnteredHere } from './entered-here.tsx'
import type { Listed } from './entry-list.tsx'
import { type Righting, rightingOf, rightingOfNotTaken, rightingOfWaiting } from './righting.ts'
import { freshTaken, freshTrap, type Place, programAt } from './start.ts'
import { TakenForm } from './taken-form.tsx'
import { TrapForm } from './trap-form.tsx'
import { TrapsNow } from './traps-now.tsx'
import { YardWaiting } from './waiting.tsx'

const POINT = 'yard-point'
/** On a phone one of them is shown. */
const PARTS = [
  { value: 'trap', words: words.trapHead },
  { value: 'taken', words: words.takenHead },
] as const

interface DeskProps {
  readonly form: YardFormAnswer
  /** From the address. */
  readonly asked: { readonly point: number | null; readonly program: number | null }
}

export function Desk({ form, asked }: DeskProps) {
  const [who, setWho] = useWho()
  const [righting, setRighting] = useState<Righting | null>(() => {
    const one = takeAskedRight()
    return one && rightingOf(one, form.zone)
  })
  const [pointId, setPointId] = useState(() => righting?.pointId ?? pointAtFirst(form, asked))
  const [turn, setTurn] = useState(0)
  const [said, setSaid] = useState(righting === null ? '' : words.puttingRight(righting.words))
  const [again, setAgain] = useState<TakenDraft | null>(null)
  const [part, setPart] = useState<'trap' | 'taken'>(asked.program === null ? 'trap' : 'taken')
  const clock = { zone: form.zone, now: stationNow }
  const place: Place = { pointId, program: programAt(form, { pointId, asked: asked.program }), clock }

  const put = (entry: YardEntry, what: string) => {
    const notTaken = righting?.notTakenKey ?? null
    if (notTaken === null) putYardEntry(entry)
    else putInstead(entry, notTaken)
    setRighting(null)
    setTurn(turn + 1)
    setSaid(what)
  }
  const takeBack = (one: Listed) => {
    const word = { kind: 'withdrawn', id: newUuid(), withdraws: one.entry.id } as const
    // Whatever is being put right meanwhile stays as it is.
    putYardEntry({ to: one.log, body: { who: whoSays(), words: [word] } })
    setSaid(words.takenBackSaid)
  }
  const begin = (next: Righting | null) => {
    if (next === null) return
    setPointId(next.pointId)
    setRighting(next)
    setSaid(words.puttingRight(next.words))
    document.getElementById(next.log === 'outcomes' ? 'taken-head' : 'trap-head')?.scrollIntoView()
  }
  const choosePoint = (id: number) => {
    setRighting(null)
    setAgain(null)
    setSaid('')
    setPointId(id)
    remember(POINT, String(id))
  }
  const cancel = () => {
    setRighting(null)
    setSaid('')
  }
  const formKey = `${pointId} ${turn} ${righting?.withdraws ?? ''} ${righting?.notTakenKey ?? ''}`
  return (
    <>
      <YardWaiting putRight={(one) => begin(rightingOfNotTaken(one, form.zone))} />
      <TrapsNow choose={choosePoint} />
      <div class="yard-who">
        <Field label={words.who} name="who" value={who} change={setWho} />
        <Choice
          label={words.point}
          name="point"
          value={String(pointId)}
          choices={form.points.map(({ id, name, hasYard }) => ({
            value: String(id),
            words: `${name}${hasYard ? words.yardHere : ''}`,
          }))}
          change={(id) => choosePoint(Number(id))}
        />
      </div>
      <Spoken words={said} />
      {righting === null && (
        <div class="yard-part">
          <ButtonsChoice legend={words.enterWhat} choices={PARTS} value={part} change={setPart} />
        </div>
      )}
      <div class={`two-columns yard-forms yard-${righting === null ? part : 'both'}`}>
        {righting?.log !== 'outcomes' && (
          <section class="yard-trap-form" aria-labelledby="trap-head">
            <h2 id="trap-head">{words.trapHead}</h2>
            <TrapForm
              key={`trap ${formKey}`}
              pointId={pointId}
              start={righting?.draft ?? freshTrap(place)}
              withdraws={righting?.withdraws ?? null}
              classes={form.typed.classes}
              clock={clock}
              keep={(word) =>
                put(
                  { to: 'trap log', body: { who: whoSays(), words: [word] } },
                  words.kept(trapEntryWords(word)),
                )
              }
              cancel={righting === null ? undefined : cancel}
            />
          </section>
        )}
        {righting?.log !== 'trap log' && (
          <section class="yard-taken-form" aria-labelledby="taken-head">
            <h2 id="taken-head">{words.takenHead}</h2>
            <TakenForm
              key={`taken ${formKey}`}
              pointId={pointId}
              form={form}
              start={righting?.draft ?? again ?? freshTaken(place, form)}
              withdraws={righting?.withdraws ?? null}
              clock={clock}
              keep={(word) => {
                // The next class off the same truck: only what differs is typed again.
                if (righting === null) setAgain({ ...takenDraftOf(word), head: '', class: '', note: '' })
                put({ to: 'outcomes', body: { who: whoSays(), words: [word] } }, words.kept(takenWords(word)))
              }}
              cancel={righting === null ? undefined : cancel}
            />
          </section>
        )}
      </div>
      <EnteredHere
        key={pointId}
        pointId={pointId}
        putRight={(one) => begin(rightingOf(one, form.zone))}
        putWaitingRight={(entry) => begin(rightingOfWaiting(entry, form.zone))}
        takeBack={takeBack}
      />
    </>
  )
}

/** The one asked for, else the one of last time, else a program's first, else the first with a yard. */
function pointAtFirst(form: YardFormAnswer, asked: DeskProps['asked']): number {
  const isThere = (id: number | null | undefined) => form.points.some((point) => point.id === id)
  const ofProgram = form.programs.find(({ id }) => id === asked.program)?.pointIds[0]
  const before = Number(remembered(POINT) ?? Number.NaN)
  const found = [asked.point, ofProgram, before].find(isThere)
  return found ?? (form.points.find(({ hasYard }) => hasYard) ?? form.points[0])!.id
}
