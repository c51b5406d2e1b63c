/** A list that comes a page at a time: the first page is asked for, "Show more" fetches the next. */
import { useEffect, useState } from 'preact/hooks'
import { ask, type Failure, failureOf, type Question } from '../api/ask.ts'
import { useAnswer } from '../api/use-answer.ts'
import { shellWords } from '../text/shell.ts'
import { FailedNotice } from './notice.tsx'

export interface Paged<Item> {
  /** Null while the first page is on its way. */
  readonly items: readonly Item[] | null
  readonly next: string | null
  readonly failure: Failure | null
  readonly loading: boolean
  readonly more: () => void
  readonly reload: () => void
}

/** `page` gives the question for a cursor; `key` names the list, so that another list starts anew. */
export function usePages<Page extends { readonly next: string | null }, Item>(
  key: string,
  page: (cursor: string | null) => Question<Page>,
  itemsOf: (page: Page) => readonly Item[],
): Paged<Item> {
  const first = useAnswer(page(null))
  const [later, setLater] = useState<readonly Page[]>([])
  const [failure, setFailure] = useState<Failure | null>(null)
  const [loading, setLoading] = useState(false)
  useEffect(() => {
    setLater([])
    setFailure(null)
  }, [key])
  const last = later[later.length - 1] ?? first.answer
  const next = last?.next ?? null
  const more = () => {
    if (next === null || loading) return
    setLoading(true)
    ask(page(next)).then(
      (answer) => {
        setLater((before) => [...before, answer])
        setFailure(null)
        setLoading(false)
      },
      (thrown: unknown) => {
        setFailure(failureOf(thrown))
        setLoading(false)
      },
    )
  }
  const items = first.answer === null ? null : [first.answer, ...later].flatMap((got) => itemsOf(got))
  return { items, next, failure: failure ?? first.failure, loading, more, reload: first.reload }
}

export function More<Item>({ paged }: { readonly paged: Paged<Item> }) {
  return (
    <>
      {paged.failure !== null && (
        <FailedNotice failure={paged.failure} again={paged.next ? paged.more : paged.reload} />
      )}
      {paged.next !== null && (
        <button type="button" class="button more" onClick={paged.more} disabled={paged.loading}>
          {paged.loading ? shellWords.loadingMore : shellWords.more}
        </button>
      )}
    </>
  )
}
