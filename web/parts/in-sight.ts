/** What opens at the lower edge is moved into sight. */
import type { RefObject } from 'preact'
import { useEffect, useRef } from 'preact/hooks'

/** For an element that is drawn when it opens: as little scrolling as shows it whole. */
export function useInSight<E extends HTMLElement>(): RefObject<E | null> {
  const here = useRef<E>(null)
  useEffect(() => here.current?.scrollIntoView({ block: 'nearest', behavior: 'instant' }), [])
  return here
}
