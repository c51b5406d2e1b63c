/**
 * What the form at the yard offers, also with the link gone: kept on this phone from the last time there was one. Not by the
 * service worker, which would give an old answer for one of now, and its `now` for the time on the clock.
 */
import { useEffect } from 'preact/hooks'
import type { YardFormAnswer } from '../../services/http/yard-shapes.ts'
import { remember, remembered } from '../parts/memory.ts'
import { ask, type Failure, type Question } from './ask.ts'
import { useAnswer } from './use-answer.ts'

export const yardFormQuestion: Question<YardFormAnswer> = { path: '/api/yard-form' }
const KEPT = 'yard-form'
/** After the screen that was opened has asked what it needs. */
const FETCH_AHEAD_MS = 5_000

interface Kept {
  readonly answer: YardFormAnswer
  /** How far this phone's clock was behind the station's. */
  readonly behindMs: number
}

let last: Kept | null = null

/**
 * Milliseconds by the station's clock, as far as this phone knows it: the machine of a station without the internet may be
 * minutes out, and a word dated ahead of it would be refused.
 */
export const stationNow = (): number => Date.now() + (kept()?.behindMs ?? 0)

function keep(answer: YardFormAnswer): void {
  last = { answer, behindMs: Date.parse(answer.now) - Date.now() }
  remember(KEPT, JSON.stringify(last))
}

function kept(): Kept | null {
  const text = last === null ? remembered(KEPT) : null
  if (text !== null) last = JSON.parse(text) as Kept
  return last
}

export interface YardForm {
  readonly answer: YardFormAnswer | null
  readonly failure: Failure | null
  /** It is from an earlier time. */
  readonly old: boolean
  readonly reload: () => void
}

export function useYardForm(): YardForm {
  const { answer, failure, askedAt, reload } = useAnswer(yardFormQuestion)
  const fresh = answer !== null && askedAt !== null && failure === null
  useEffect(() => {
    if (fresh) keep(answer)
  }, [fresh, answer])
  return { answer: answer ?? kept()?.answer ?? null, failure, old: failure !== null, reload }
}

/** So that the form opens at a yard though nobody opened it before the link went. */
export function fetchYardFormAhead(): void {
  setTimeout(() => {
    // A link that is gone already leaves what is kept.
    void ask(yardFormQuestion).then(keep, () => undefined)
  }, FETCH_AHEAD_MS)
}
