/** What stands where there is nothing to show: being fetched, empty, or failed, each with what to do. */
import type { Failure } from '../api/ask.ts'
import { failureWords } from '../text/failures.ts'
import { shellWords } from '../text/shell.ts'
import { Icon } from './icon.tsx'

export function Skeleton({
  shape,
  count = 1,
}: {
  readonly shape: 'row' | 'photo' | 'line'
  readonly count?: number
}) {
  return (
    <div class={`skeletons skeletons-${shape}`} role="status">
      <span class="unseen">{shellWords.loading}</span>
      {Array.from({ length: count }, (_, index) => (
        <div class={`skeleton skeleton-${shape}`} key={index} aria-hidden="true" />
      ))}
    </div>
  )
}

export function FailedNotice({ failure, again }: { readonly failure: Failure; readonly again?: () => void }) {
  return (
    <div class="notice notice-failed" role="alert">
      <Icon name="alarm" />
      <div>
        <p class="notice-what">{failure.what}</p>
        <p>{failure.remedy}</p>
        {again && (
          <button type="button" class="button" onClick={again}>
            {failureWords.tryAgain}
          </button>
        )}
      </div>
    </div>
  )
}

interface EmptyProps {
  readonly words: { readonly what: string; readonly remedy: string; readonly action?: string }
  readonly href?: string
}

export function EmptyNotice({ words, href }: EmptyProps) {
  return (
    <div class="notice notice-empty">
      <Icon name="hoof" />
      <div>
        <p class="notice-what">{words.what}</p>
        <p>{words.remedy}</p>
        {href !== undefined && words.action !== undefined && (
          <a class="button button-strong" href={href}>
            {words.action}
          </a>
        )}
      </div>
    </div>
  )
}

/** A line that is read out when its words change. */
export function Spoken({ words }: { readonly words: string }) {
  return (
    <p class="spoken" role="status">
      {words}
    </p>
  )
}
