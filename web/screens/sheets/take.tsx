/** What to take: lines from the method and the head to be ready for, to be changed before they are printed. */
import { useState } from 'preact/hooks'
import type { TargetListAnswer } from '../../../services/http/program-shapes.ts'
import type { YardFormAnswer } from '../../../services/http/yard-shapes.ts'
import { stationQuestion, targetListQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { Field } from '../../parts/field.tsx'
import { remember, remembered } from '../../parts/memory.ts'
import { countsForPlans, licensedPeople, localCodes, onlyFitTravel, trapSafety } from '../../text/safety.ts'
import { sheetWords } from '../../text/sheets.ts'
import { whatToTake } from '../../text/what-to-take.ts'
import { TakeLines } from './take-lines.tsx'

const words = sheetWords.take
type Program = YardFormAnswer['programs'][number]

export function TakeSheet({ program }: { readonly program: Program | null }) {
  const { answer: station } = useAnswer(stationQuestion)
  // Without it the lines are as for head that nobody knows: the sheet is printed with a link or without one.
  const { answer: list } = useAnswer(program === null ? null : targetListQuestion(program.id))
  const busiest = list === null ? null : busiestOf(list)
  const [typed, setTyped] = useState<string | null>(null)
  const head = typed ?? (busiest === null ? '' : String(busiest.head))
  const count = Number.isInteger(Number(head)) && Number(head) > 0 ? Number(head) : null
  const each = busiest === null || busiest.head === 0 ? null : busiest.litresADay / busiest.head
  const usual = whatToTake({
    method: program?.method ?? 'trap yard',
    species: program?.species ?? null,
    head: count,
    litresADay: count === null || each === null ? null : Math.ceil(count * each),
  })
  const key = `take-${program?.id ?? 'none'}`
  const [own, setOwn] = useState<readonly string[] | null>(() => readOwn(key))
  const keepOwn = (lines: readonly string[] | null) => {
    setOwn(lines)
    remember(key, JSON.stringify(lines))
  }
  return (
    <article class="sheet">
      <p class="sheet-of">
        <strong>{words.for(station?.station?.name ?? '', program?.name ?? null)}</strong>
      </p>
      <div class="sheet-tools">
        <Field
          label={words.head}
          hint={words.headHint}
          name="head"
          kind="number"
          value={head}
          change={setTyped}
        />
      </div>
      {count !== null && (
        <p class="paper-only">
          {words.head}: {count}
        </p>
      )}
      <p class="small">{words.practice}</p>
      <TakeLines lines={own ?? usual} change={keepOwn} again={own === null ? null : () => keepOwn(null)} />
      <ul class="sheet-safety">
        <li>{countsForPlans}</li>
        <li>{`${trapSafety.visit} ${trapSafety.open}`}</li>
        <li>{onlyFitTravel}</li>
        <li>{licensedPeople}</li>
        <li>{localCodes}</li>
      </ul>
    </article>
  )
}

/** The point of the list that asks for the most. */
function busiestOf({ lines }: TargetListAnswer): { head: number; litresADay: number } | null {
  const brings = lines.flatMap(({ bring }) => (bring === null ? [] : [bring]))
  return brings.sort((a, b) => b.head - a.head)[0] ?? null
}

function readOwn(key: string): readonly string[] | null {
  const kept: unknown = JSON.parse(remembered(key) ?? 'null')
  return Array.isArray(kept) ? kept.filter((line): line is string => typeof line === 'string') : null
}
