/** A question's answer as a screen sees it: what is known now, what failed, and a way to ask again. */
import { useCallback, useEffect, useRef, useState } from 'preact/hooks'
import { ask, type Failure, failureOf, type Question } from './ask.ts'

export interface Asked<T> {
  /** The last answer to this question, even if a later try failed; null while none has come. */
  readonly answer: T | null
  readonly failure: Failure | null
  /** When the answer was asked for, by this page's clock; null for one that is kept from an earlier look. */
  readonly askedAt: number | null
  /** Asks again; over once the answer is there or has failed. */
  readonly reload: () => Promise<void>
}

/** Answers of this session by path, so that going back shows the page at once while it asks again. */
const kept = new Map<string, unknown>()
const KEPT_MOST = 60

function keep(path: string, answer: unknown): void {
  kept.delete(path)
  kept.set(path, answer)
  if (kept.size <= KEPT_MOST) return
  const oldest = kept.keys().next()
  if (!oldest.done) kept.delete(oldest.value)
}

/** The last answer kept for a question, or null. */
export function keptAnswer<T>(question: Question<T> | null): T | null {
  return question === null ? null : ((kept.get(question.path) as T | undefined) ?? null)
}

interface State<T> {
  readonly path: string | null
  readonly answer: T | null
  readonly failure: Failure | null
  readonly askedAt: number | null
}

/**
 * Asks when shown and whenever the path changes; again every `everyMs` while the page is visible, so a phone
 * in a pocket costs the link nothing. A null question waits.
 */
export function useAnswer<T>(question: Question<T> | null, everyMs: number | null = null): Asked<T> {
  const path = question?.path ?? null
  const [state, setState] = useState<State<T>>({
    path,
    answer: keptAnswer(question),
    failure: null,
    askedAt: null,
  })
  const [turn, setTurn] = useState(0)
  const wanted = useRef(path)
  wanted.current = path
  const asking = useRef<AbortController | null>(null)
  const waiting = useRef<Array<() => void>>([])

  useEffect(() => {
    if (path === null) return
    const stop = new AbortController()
    asking.current = stop
    const askedAt = performance.now()
    const show = (next: (before: State<T>) => State<T>) => {
      // Asked again meanwhile: those who wait, wait for that.
      if (stop.signal.aborted || wanted.current !== path) return
      setState(next)
      for (const over of waiting.current.splice(0)) over()
    }
    ask<T>({ path }, stop.signal).then(
      (answer) => {
        keep(path, answer)
        show(() => ({ path, answer, failure: null, askedAt }))
      },
      (thrown: unknown) =>
        show((before) => ({
          path,
          answer: keptAnswer<T>({ path }),
          failure: failureOf(thrown),
          askedAt: before.path === path ? before.askedAt : null,
        })),
    )
    return () => stop.abort()
  }, [path, turn])

  const reload = useCallback(
    () =>
      new Promise<void>((over) => {
        // What was asked before this does not tell what stands now.
        asking.current?.abort()
        waiting.current.push(over)
        setTurn((before) => before + 1)
      }),
    [],
  )

  useEffect(() => {
    if (everyMs === null || path === null) return
    const again = () => {
      if (document.visibilityState === 'visible') reload()
    }
    const timer = setInterval(again, everyMs)
    document.addEventListener('visibilitychange', again)
    return () => {
      clearInterval(timer)
      document.removeEventListener('visibilitychange', again)
    }
  }, [path, everyMs, reload])

  if (state.path !== path) return { answer: keptAnswer(question), failure: null, askedAt: null, reload }
  return { answer: state.answer, failure: state.failure, askedAt: state.askedAt, reload }
}
