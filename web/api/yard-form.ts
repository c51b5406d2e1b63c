/** What the form at the yard offers, also with the link gone: kept on this phone from the last time there was one. */
import { useEffect } from 'preact/hooks'
import type { YardFormAnswer } from '../../services/http/yard-shapes.ts'
import { remember, remembered } from '../parts/memory.ts'
import { ask, type Failure, type Question } from './ask.ts'
import { useAnswer } from './use-answer.ts'

export const yardFormQuestion: Question<YardFormAnswer> = { path: '/api/yard-form' }
const KEPT = 'yard-form'
/** After the screen that was opened has asked what it needs. */
const FETCH_AHEAD_MS = 5_000

/** How far this phone's clock is behind the station's; known once an answer came in this session. */
let behindMs = 0

/** Milliseconds by the station's clock, as far as this page knows it. */
export const stationNow = (): number => Date.now() + behindMs

function keep(answer: YardFormAnswer): void {
  behindMs = Date.parse(answer.now) - Date.now()
  remember(KEPT, JSON.stringify(answer))
}

function kept(): YardFormAnswer | null {
  const text = remembered(KEPT)
  return text === null ? null : (JSON.parse(text) as YardFormAnswer)
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
  return { answer: answer ?? kept(), failure, old: failure !== null, reload }
}

/** So that the form opens at a yard though nobody opened it before the link went. */
export function fetchYardFormAhead(): void {
  setTimeout(() => {
    // A link that is gone already leaves what is kept.
    void ask(yardFormQuestion).then(keep, () => undefined)
  }, FETCH_AHEAD_MS)
}
