/** How an alarm of cattle was reached, and a way to say that it is normal at this point. */
import type { CattleAnswer } from '../../services/http/cattle-shapes.ts'
import type { Point } from '../../services/http/shapes.ts'
import { tell } from '../api/ask.ts'
import { alarmWords, hangingWords, limitWords, cattleWords as words } from '../text/cattle.ts'
import { Form } from './form.tsx'
import { useForm } from './use-form.ts'

interface CattleAlarmProps {
  readonly point: Point
  readonly cattle: CattleAnswer
  readonly now: string
  readonly said: (what: string) => void
}

export function CattleAlarm({ point, cattle, now, said }: CattleAlarmProps) {
  const form = useForm()
  const alarm = alarmWords(cattle, { kind: point.kind, now })
  const hanging = hangingWords(cattle)
  const submit = async () => {
    await tell('POST', `/api/points/${point.id}/normal`, {})
    said(words.normalSaid)
  }
  return (
    <>
      {hanging !== null && <p>{`${hanging}. ${words.hangingHint}`}</p>}
      {alarm !== null && (
        <Form form={form} label={words.normal} button={words.normal} fields={[]} submit={submit}>
          <p>{alarm}</p>
          <p class="hint">{words.normalHint}</p>
        </Form>
      )}
      {alarm === null && cattle.limit !== null && cattle.state !== 'away' && (
        <p class="small">{capital(limitWords(cattle.limit, point.kind))}</p>
      )}
    </>
  )
}

const capital = (text: string) => text.slice(0, 1).toUpperCase() + text.slice(1)
