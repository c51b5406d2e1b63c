/** The desk of this session: it outlives the screen, so undo and unsent words survive a look at another page. */
import { useEffect, useState } from 'preact/hooks'
import type { CheckCard, ChecksRecorded } from '../../../services/http/shapes.ts'
import type { CardWord } from '../../../services/tally/cards.ts'
import { tell } from '../../api/ask.ts'
import { type OutboxState, openOutbox } from '../../api/outbox.ts'
import type { Word } from '../../api/words.ts'
import { answered, type Desk, emptyDesk, type Step, sayOnCard, undoStep } from './desk.ts'

let desk: Desk = emptyDesk
const listeners = new Set<() => void>()

function tellListeners(): void {
  for (const listener of listeners) listener()
}

const outbox = openOutbox<readonly Word[]>({
  send: async (words) => {
    await tell<ChecksRecorded>('POST', '/api/checks', { words })
  },
  changed: tellListeners,
  later: (act, ms) => setTimeout(act, ms),
})

addEventListener('online', () => outbox.sendNow())
addEventListener('beforeunload', (event) => {
  // The browser asks "leave the page?" in its own words: unsent words would be lost.
  if (outbox.state().waiting > 0) event.preventDefault()
})

export interface DeskInHand {
  readonly desk: Desk
  readonly outbox: OutboxState
  readonly sendNow: () => void
  readonly say: (card: CheckCard, said: { shownId: number; word: CardWord }) => void
  /** The step taken back, or null when there was none. */
  readonly undo: (cards: readonly CheckCard[]) => Step | null
}

/** `answer` is the service's last answer: a new one that came with nothing left to send replaces what was said here. */
export function useDesk(answer: unknown, reload: () => void): DeskInHand {
  const [, draw] = useState(0)
  useEffect(() => {
    let before = outbox.state().waiting
    const listener = () => {
      const { waiting } = outbox.state()
      if (waiting === 0 && before > 0) reload()
      before = waiting
      draw((turn) => turn + 1)
    }
    listeners.add(listener)
    return () => listeners.delete(listener)
  }, [reload])
  useEffect(() => {
    if (outbox.state().waiting > 0) return
    desk = answered(desk)
    draw((turn) => turn + 1)
  }, [answer])
  return {
    desk,
    outbox: outbox.state(),
    sendNow: outbox.sendNow,
    say: (card, said) => {
      const [after, words] = sayOnCard(desk, card, said)
      desk = after
      outbox.put(words)
    },
    undo: (cards) => {
      const undone = undoStep(desk, cards)
      if (undone === null) return null
      desk = undone.desk
      outbox.put(undone.words)
      return undone.step
    },
  }
}
