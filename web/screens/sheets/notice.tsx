/** The notice to neighbours: what is going to be done, when and where, and whom to call. */
import { useState } from 'preact/hooks'
import type { YardFormAnswer } from '../../../services/http/yard-shapes.ts'
import { stationQuestion } from '../../api/questions.ts'
import { useAnswer } from '../../api/use-answer.ts'
import { remember, remembered } from '../../parts/memory.ts'
import { licensedPeople, localCodes, notOwnerless, waterSafety } from '../../text/safety.ts'
import { programDays, sheetWords } from '../../text/sheets.ts'
import { PaperField } from './paper-field.tsx'

const words = sheetWords.notice
const CONTACT = 'notice-contact'

interface NoticeSheetProps {
  readonly form: YardFormAnswer
  readonly program: YardFormAnswer['programs'][number] | null
}

export function NoticeSheet({ form, program }: NoticeSheetProps) {
  const { answer } = useAnswer(stationQuestion)
  const names = (program?.pointIds ?? []).flatMap(
    (id) => form.points.find((point) => point.id === id)?.name ?? [],
  )
  const [contact, setContact] = useState(remembered(CONTACT) ?? '')
  const [when, setWhen] = useState(program === null ? '' : programDays(program))
  const [where, setWhere] = useState(names.join(', '))
  const [how, setHow] = useState(program?.method ?? '')
  const [more, setMore] = useState('')
  return (
    <article class="sheet sheet-notice">
      <p class="sheet-lead">{words.lead(answer?.station?.name ?? '', program?.species ?? null)}</p>
      <PaperField label={words.when} value={when} change={setWhen} />
      <PaperField label={words.where} value={where} change={setWhere} lines={2} />
      <PaperField label={words.how} value={how} change={setHow} />
      <PaperField
        label={words.contact}
        hint={words.contactHint}
        value={contact}
        change={(text) => {
          setContact(text)
          remember(CONTACT, text)
        }}
        lines={2}
      />
      <p>{words.ask}</p>
      <p>{words.stay}</p>
      <p>{words.dates}</p>
      <PaperField label={words.more} value={more} change={setMore} lines={3} />
      <ul class="sheet-safety">
        <li>{licensedPeople}</li>
        <li>{notOwnerless}</li>
        <li>{waterSafety}</li>
        <li>{localCodes}</li>
      </ul>
    </article>
  )
}
