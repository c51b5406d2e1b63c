/** The one way out for words on photos, whichever screen they are said on; it outlives every screen. */
import { tell } from './ask.ts'
import { type OutboxState, openOutbox } from './outbox.ts'
import { openShelf } from './shelf.ts'
import { newUuid } from './uuid.ts'
import type { Saying, SayingAnswer, Word } from './words.ts'

export interface WordsListener {
  /** Words were put in. */
  readonly said?: (saying: Saying) => void
  /** Something waits, failed or went; look at the state. */
  readonly changed?: () => void
  readonly taken?: (saying: Saying, answer: SayingAnswer) => void
  readonly dropped?: (saying: Saying) => void
}

const listeners = new Set<WordsListener>()
let lastTakenAt = Number.NEGATIVE_INFINITY

const outbox = openOutbox<Saying, SayingAnswer>({
  send: (saying) => tell('POST', '/api/checks', saying),
  shelf: openShelf('words'),
  changed: () => {
    for (const { changed } of listeners) changed?.()
  },
  taken: (saying, answer) => {
    lastTakenAt = performance.now()
    for (const { taken } of listeners) taken?.(saying, answer)
  },
  dropped: (saying) => {
    for (const { dropped } of listeners) dropped?.(saying)
  },
  later: (act, ms) => setTimeout(act, ms),
})

addEventListener('online', () => outbox.sendNow())
addEventListener('beforeunload', (event) => {
  // The browser asks "leave the page?" in its own words: unsent words would be lost.
  const { waiting, lasts } = outbox.state()
  if (waiting > 0 && !lasts) event.preventDefault()
})

/** Words an earlier page left unsent. */
export const wordsLeft = outbox.left
export const sendWordsNow = outbox.sendNow

export const wordsWaiting = outbox.waiting

/** Whether the service took words after that time, by this page's clock: what was asked then may not know of them. */
export const wordsTakenSince = (askedAt: number) => lastTakenAt >= askedAt

export function wordsOut(): OutboxState {
  return outbox.state()
}

export function sayWords(words: readonly Word[]): Saying {
  const saying = { batch: newUuid(), words }
  void outbox.put(saying)
  for (const { said } of listeners) said?.(saying)
  return saying
}

export function hearWords(listener: WordsListener): () => void {
  listeners.add(listener)
  return () => listeners.delete(listener)
}
