/** Water good, low or dry: three big buttons, one tap, the word goes to the service at once. */
import { useState } from 'preact/hooks'
import type { WaterRunRow } from '../../services/http/shapes.ts'
import { type Failure, failureOf, tell } from '../api/ask.ts'
import { waterRunWords } from '../text/water-run.ts'
import { Icon, type IconName } from './icon.tsx'
import { FailedNotice } from './notice.tsx'

const CHOICES = [
  { state: 'good', kind: 'water good', icon: 'drop', words: waterRunWords.good },
  { state: 'low', kind: 'water low', icon: 'dropLow', words: waterRunWords.low },
  { state: 'dry', kind: 'water dry', icon: 'dropDry', words: waterRunWords.dry },
] as const

/** The icon of each state of water, so that no state is told by colour alone. */
export const WATER_ICONS: Readonly<Record<WaterRunRow['water']['state'], IconName>> = {
  good: 'drop',
  low: 'dropLow',
  dry: 'dropDry',
  off: 'none',
  'not seen': 'dropUnknown',
}

interface WaterButtonsProps {
  readonly pointId: number
  readonly pointName: string
  readonly state: WaterRunRow['water']['state']
  /** Called once the service has it, with the words to say. */
  readonly said: (words: string) => void
}

export function WaterButtons({ pointId, pointName, state, said }: WaterButtonsProps) {
  const [sending, setSending] = useState<string | null>(null)
  const [failure, setFailure] = useState<Failure | null>(null)
  const choose = async (choice: (typeof CHOICES)[number]) => {
    setSending(choice.state)
    setFailure(null)
    try {
      await tell('POST', `/api/points/${pointId}/states`, { kind: choice.kind })
      said(`Water ${choice.state} at ${pointName}`)
    } catch (thrown) {
      setFailure(failureOf(thrown))
    } finally {
      setSending(null)
    }
  }
  return (
    <fieldset class="water-buttons">
      <legend>
        {waterRunWords.setWater}
        <span class="unseen"> ({pointName})</span>
      </legend>
      {CHOICES.map((choice) => (
        <button
          type="button"
          class={`button water-button water-${choice.state}`}
          aria-pressed={state === choice.state}
          disabled={sending !== null}
          onClick={() => choose(choice)}
          key={choice.state}
        >
          <Icon name={choice.icon} />
          {choice.words}
        </button>
      ))}
      {failure !== null && <FailedNotice failure={failure} />}
    </fieldset>
  )
}
