/** What was entered, latest first, each with who said it; put right and taken back by later words. */
import type { OutcomeAnswer, TrapEntryAnswer } from '../../../services/http/yard-shapes.ts'
import { AskTwice } from '../../parts/ask-twice.tsx'
import {
  takenBackWords,
  takenDetail,
  takenWords,
  trapEntryWords,
  whenWords,
  yardWords as words,
} from '../../text/yard.ts'

export type Listed =
  | { readonly log: 'outcomes'; readonly entry: OutcomeAnswer }
  | { readonly log: 'trap log'; readonly entry: TrapEntryAnswer }

interface EntryListProps {
  readonly entries: readonly Listed[]
  readonly putRight?: ((one: Listed) => void) | undefined
  readonly takeBack: (one: Listed) => void
  /** Where entries are of several points. */
  readonly withPoint?: boolean
}

const lineOf = (one: Listed) => (one.log === 'outcomes' ? takenWords(one.entry) : trapEntryWords(one.entry))
const detailOf = (one: Listed) => (one.log === 'outcomes' ? takenDetail(one.entry) : (one.entry.note ?? ''))
const whenOf = (one: Listed) => whenWords(one.log === 'outcomes' ? one.entry.day : one.entry.at)

export function EntryList({ entries, putRight, takeBack, withPoint = false }: EntryListProps) {
  return (
    <ul class="entries">
      {entries.map((one) => {
        const { id, who, takenBack, pointName } = one.entry
        const back = takenBackWords(takenBack)
        const detail = detailOf(one)
        return (
          <li class={back === null ? '' : 'entry-back'} key={id}>
            <div>
              <p>
                <strong>{lineOf(one)}</strong>
              </p>
              <p class="small">
                {withPoint ? `${pointName}, ` : ''}
                {whenOf(one)}, by {who}
                {detail === '' ? '' : `: ${detail}`}
              </p>
              {back !== null && <p class="small">{back}</p>}
            </div>
            {back === null && (
              <div class="button-row">
                {putRight !== undefined && (
                  <button
                    type="button"
                    class="button"
                    aria-label={`${words.putRight}: ${lineOf(one)}`}
                    onClick={() => putRight(one)}
                  >
                    {words.putRight}
                  </button>
                )}
                <AskTwice
                  words={words.takeBack}
                  sure={words.takeBackSure}
                  leave={words.keepIt}
                  act={() => takeBack(one)}
                />
              </div>
            )}
          </li>
        )
      })}
    </ul>
  )
}

/** In one order of time, latest first; head taken on a day stands at its end. */
export function inOrder(
  outcomes: readonly OutcomeAnswer[],
  trapLog: readonly TrapEntryAnswer[],
): readonly Listed[] {
  const timed = [
    ...outcomes.map((entry) => ({ listed: { log: 'outcomes', entry } as const, at: `${entry.day}T99` })),
    ...trapLog.map((entry) => ({ listed: { log: 'trap log', entry } as const, at: entry.at })),
  ]
  return timed.sort((a, b) => b.at.localeCompare(a.at)).map(({ listed }) => listed)
}
