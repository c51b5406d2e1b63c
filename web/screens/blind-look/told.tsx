/** After the word: what the camera count had made of the look, boxes and all. */
import { useEffect, useRef, useState } from 'preact/hooks'
import type { LookRecorded } from '../../../services/http/audit-shapes.ts'
import { SPECIES, type Tally } from '../../../services/words.ts'
import { type Failure, failureOf, tell } from '../../api/ask.ts'
import { BoxSwitch } from '../../parts/box-switch.tsx'
import { Icon } from '../../parts/icon.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { Photo } from '../../parts/photo.tsx'
import { blindLookWords as words } from '../../text/blind-look.ts'
import { clockOf } from '../../text/times.ts'

interface ToldProps {
  readonly lookId: number
  readonly told: LookRecorded
  readonly hasNext: boolean
  readonly next: () => void
  readonly takenBack: () => void
}

export function Told({ lookId, told, hasNext, next, takenBack }: ToldProps) {
  const [failure, setFailure] = useState<Failure | null>(null)
  const box = useRef<HTMLElement>(null)
  useEffect(() => {
    box.current?.focus({ preventScroll: true })
    box.current?.scrollIntoView({ block: 'start' })
  }, [])
  const takeBack = async () => {
    try {
      const body = { words: told.stills.map(({ id }) => ({ stillId: id, counts: null })) }
      await tell('POST', `/api/audits/looks/${lookId}`, body)
      takenBack()
    } catch (thrown) {
      setFailure(failureOf(thrown))
    }
  }
  const same = told.stills.every(({ machineTally }, index) => isSame(machineTally, told.said[index] ?? {}))
  return (
    <section class="blind-told" tabIndex={-1} ref={box} aria-label={same ? words.same : words.differs}>
      <p class={`fact ${same ? 'fact-well' : 'fact-look'}`} role="status">
        <Icon name={same ? 'tick' : 'eye'} />
        <span>{same ? words.same : words.differs}</span>
      </p>
      <div class="button-row">
        <button type="button" class="button button-strong" onClick={next}>
          {hasNext ? words.next : words.done}
        </button>
        <button type="button" class="button" onClick={takeBack}>
          <Icon name="undo" />
          {words.takeBack}
        </button>
        <BoxSwitch />
      </div>
      {failure !== null && <FailedNotice failure={failure} />}
      <ul class="told-photos">
        {told.stills.map((still, index) => (
          <li key={still.id}>
            <Photo still={still} size="small" />
            <p>
              {clockOf(still.takenAt)}. {words.you(told.said[index] ?? {})}.{' '}
              {words.machine(still.machineTally)}.
            </p>
          </li>
        ))}
      </ul>
    </section>
  )
}

const isSame = (a: Tally, b: Tally) => SPECIES.every((species) => (a[species] ?? 0) === (b[species] ?? 0))
