/** What people say of a point beside its water: the trap yard, with the words that keep animals safe, and rain. */
import { useState } from 'preact/hooks'
import type { Point, PointAnswer, WaterRunRow } from '../../../services/http/shapes.ts'
import { type Failure, failureOf, tell } from '../../api/ask.ts'
import { FailedNotice } from '../../parts/notice.tsx'
import { TrapSafety } from '../../parts/trap-safety.tsx'
import { pointWords as words } from '../../text/point.ts'
import { waterSafety } from '../../text/safety.ts'
import { TrapVisits } from './trap-visits.tsx'

type StateKind = PointAnswer['states'][number]['kind']

interface SayProps {
  readonly point: Point
  readonly said: (words: string) => void
}

function useSay({ point, said }: SayProps) {
  const [failure, setFailure] = useState<Failure | null>(null)
  const say = async (kind: StateKind) => {
    setFailure(null)
    try {
      await tell('POST', `/api/points/${point.id}/states`, { kind })
      said(`${kind} at ${point.name}`)
    } catch (thrown) {
      setFailure(failureOf(thrown))
    }
  }
  return { failure, say }
}

export function TrapButtons({ point, trap, said }: SayProps & { readonly trap: WaterRunRow['trap'] }) {
  const { failure, say } = useSay({ point, said })
  const [deciding, setDeciding] = useState(false)
  const state = trap?.state ?? null
  return (
    <fieldset class="trap">
      <legend>{words.trap}</legend>
      <div class="button-row">
        <button
          type="button"
          class="button"
          aria-pressed={state === 'open'}
          onClick={() => {
            setDeciding(false)
            say('trap open')
          }}
        >
          {words.trapButtons.open}
        </button>
        <button
          type="button"
          class="button"
          aria-pressed={state === 'set'}
          aria-expanded={deciding}
          onClick={() => setDeciding(true)}
        >
          {words.trapButtons.set}
        </button>
        <button
          type="button"
          class="button"
          aria-pressed={state === 'shut down'}
          onClick={() => {
            setDeciding(false)
            say('trap shut down')
          }}
        >
          {words.trapButtons.shut}
        </button>
      </div>
      {(deciding || state === 'set' || state === 'open') && (
        <TrapSafety calm={!deciding && state !== 'set'}>
          {deciding && (
            <div class="button-row">
              <button
                type="button"
                class="button button-strong"
                onClick={() => {
                  setDeciding(false)
                  say('trap set')
                }}
              >
                {words.confirmSet}
              </button>
              <button type="button" class="button" onClick={() => setDeciding(false)}>
                {words.keepAsIs}
              </button>
            </div>
          )}
        </TrapSafety>
      )}
      {failure !== null && <FailedNotice failure={failure} />}
      <TrapVisits point={point} trap={trap} said={said} />
    </fieldset>
  )
}

const OTHER_KINDS = ['rain', 'water off', 'spelled'] as const

export function OtherStates({ point, said }: SayProps) {
  const { failure, say } = useSay({ point, said })
  return (
    <details class="other-states">
      <summary>{words.otherWords}</summary>
      <p class="small">{waterSafety}</p>
      <div class="button-row">
        {OTHER_KINDS.map((kind) => (
          <button type="button" class="button" onClick={() => say(kind)} key={kind}>
            {words.otherKinds[kind]}
          </button>
        ))}
      </div>
      {failure !== null && <FailedNotice failure={failure} />}
    </details>
  )
}
