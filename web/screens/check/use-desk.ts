/** The desk of this browser: it outlives the screen and the page, so undo and unsent words survive a reload. */
import { useEffect, useState } from 'preact/hooks'
import type { CheckCard, Still, StillAnswer } from '../../../services/http/shapes.ts'
import type { CardWord } from '../../../services/tally/card-word.ts'
import type { Mark } from '../../../services/words.ts'
import { ask } from '../../api/ask.ts'
import type { Change } from '../../api/changes.ts'
import { stillQuestion } from '../../api/questions.ts'
import { openShelf } from '../../api/shelf.ts'
import type { Saying, Word } from '../../api/words.ts'
import { hearWords, sayWords, wordsLeft } from '../../api/words-out.ts'
import {
  answered,
  type Desk,
  dropped,
  emptyDesk,
  lastStep,
  type Step,
  said,
  taken,
  undone,
  withFresh,
  wordsOnCard,
  wordsToMark,
} from './desk.ts'
import type { CardNow } from './standing.ts'

/** Nobody takes back more of an evening's work than this; older steps make room. */
const MOST_STEPS = 2_000
/** More photos than this at once are asked for with their cards. */
const MOST_ALONE = 12
/** By then the answer to one's own words has come. */
const OWN_ANSWER_MS = 1_000

const shelf = openShelf<Step>('steps')
/** Where each step lies on the shelf, by its batch. */
const keys = new Map<string, Promise<number>>()
const listeners = new Set<() => void>()
let desk: Desk = emptyDesk
let ready = false
/** Words are being put in from here, with what they are to the desk. */
let saidHere = false

function setDesk(next: Desk): void {
  for (const { batch } of desk.steps) {
    if (!next.steps.some((step) => step.batch === batch)) forget(batch)
  }
  desk = next
  for (const listener of listeners) listener()
}

function forget(batch: string): void {
  const key = keys.get(batch)
  keys.delete(batch)
  void key?.then((number) => shelf.remove(number))
}

const opened = Promise.all([shelf.all(), wordsLeft]).then(([steps, left]) => {
  for (const { key, value } of steps) keys.set(value.batch, Promise.resolve(key))
  ready = true
  setDesk({
    ...desk,
    waiting: [...left, ...desk.waiting],
    steps: [...steps.map(({ value }) => value), ...desk.steps],
  })
})

hearWords({
  // Said on a photo's own page, it stands on the cards too.
  said: (saying) => {
    if (!saidHere) setDesk({ ...desk, waiting: [...desk.waiting, saying] })
  },
  taken: ({ batch }, { checks, stills }) => {
    setDesk(taken(desk, batch, { checks, stills, at: performance.now() }))
  },
  dropped: ({ batch }) => setDesk(dropped(desk, batch)),
  changed: () => {
    for (const listener of listeners) listener()
  },
})

function sayHere(words: readonly Word[]): Saying {
  saidHere = true
  const saying = sayWords(words)
  saidHere = false
  return saying
}

function put(card: CardNow, words: readonly Word[]): void {
  const saying = sayHere(words)
  const { desk: next, step } = said(desk, card, saying)
  keys.set(
    step.batch,
    opened.then(() => shelf.put(step)),
  )
  setDesk({ ...next, steps: next.steps.slice(-MOST_STEPS) })
}

export interface Undone {
  readonly step: Step
  /** Somebody else has spoken of some of it since, and theirs stays. */
  readonly spokenOver: boolean
}

export interface DeskInHand {
  readonly desk: Desk
  /** False until what an earlier page left is read. */
  readonly ready: boolean
  readonly say: (card: CardNow, said: { shownId: number; word: CardWord }) => void
  readonly mark: (card: CardNow, mark: Mark, on: boolean) => void
  /** What was taken back, or null when there was nothing. */
  readonly undo: (cards: readonly CardNow[]) => Undone | null
  /** Takes in what others changed on the cards shown; `reload` asks for all of them. */
  readonly hear: (change: Change, cards: readonly CheckCard[], reload: () => void) => void
}

/** `askedAt`: when the cards that are shown were asked for, by this page's clock. */
export function useDesk(askedAt: number | null): DeskInHand {
  const [, draw] = useState(0)
  useEffect(() => {
    const listener = () => draw((turn) => turn + 1)
    listeners.add(listener)
    listener()
    return () => {
      listeners.delete(listener)
    }
  }, [])
  useEffect(() => {
    if (askedAt !== null) setDesk(answered(desk, askedAt))
  }, [askedAt])
  return { desk, ready, say, mark, undo, hear }
}

function say(card: CardNow, one: { shownId: number; word: CardWord }): void {
  put(card, wordsOnCard(card, one))
}

function mark(card: CardNow, one: Mark, on: boolean): void {
  put(card, wordsToMark(card, one, on))
}

function undo(cards: readonly CardNow[]): Undone | null {
  const last = lastStep(desk, cards)
  if (last === null) return null
  const saying = last.words.length === 0 ? null : sayHere(last.words)
  setDesk(undone(desk, saying))
  return { step: last.step, spokenOver: last.spokenOver }
}

function hear(change: Change, cards: readonly CheckCard[], reload: () => void): void {
  setTimeout(() => {
    // News of what was said here is none.
    if (change.checkId !== null && desk.own.has(change.checkId)) return
    const { stillIds } = change
    if (stillIds === null) return reload()
    const shown = new Set(cards.flatMap(({ stills }) => stills.map(({ id }) => id)))
    const changed = stillIds.filter((id) => shown.has(id))
    if (changed.length > MOST_ALONE) return reload()
    void askAgain(changed)
  }, OWN_ANSWER_MS)
}

async function askAgain(ids: readonly number[]): Promise<void> {
  const at = performance.now()
  const stills: Still[] = []
  for (const id of ids) {
    // Not told now, it is told by the next asking for all.
    const answer = await ask<StillAnswer>(stillQuestion(id)).catch(() => null)
    if (answer !== null) stills.push(answer.still)
  }
  if (stills.length > 0) setDesk(withFresh(desk, stills, at))
}
