/** A screen's frame: its one h1, the page's title, and where the keyboard lands when the screen opens. */
import type { ComponentChildren } from 'preact'
import { useEffect } from 'preact/hooks'
import { shellWords } from '../text/shell.ts'

interface ScreenProps {
  readonly title: string
  /** Shown beside the title. */
  readonly aside?: ComponentChildren
  readonly back?: { readonly href: string; readonly words: string }
  readonly children: ComponentChildren
  readonly kind: string
}

export function Screen({ title, aside, back, children, kind }: ScreenProps) {
  useEffect(() => {
    document.title = `${title}, ${shellWords.product}`
  }, [title])
  return (
    <div class={`screen screen-${kind}`}>
      {back && (
        <a class="back" href={back.href}>
          <span aria-hidden="true">‹ </span>
          {back.words}
        </a>
      )}
      <div class="screen-head">
        <h1 tabIndex={-1}>{title}</h1>
        {aside}
      </div>
      {children}
    </div>
  )
}
