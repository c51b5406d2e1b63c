/** What waits while the link is gone, and what the service refused. */
import { useEffect, useState } from 'preact/hooks'
import { useLink } from '../../api/changes.ts'
import type { OutboxState } from '../../api/outbox.ts'
import { hearWords, sendWordsNow, wordsOut } from '../../api/words-out.ts'
import { Icon } from '../../parts/icon.tsx'
import { FailedNotice } from '../../parts/notice.tsx'
import { checkWordsOnScreen as words } from '../../text/check.ts'

/** A stream that is opened anew is no news. */
const PATIENCE_MS = 3_000

interface LinkState extends OutboxState {
  /** For so long that it is worth saying. */
  readonly gone: boolean
}

function useLinkState(): LinkState {
  const [, draw] = useState(0)
  useEffect(() => hearWords({ changed: () => draw((turn) => turn + 1) }), [])
  return { ...wordsOut(), gone: useGoneFor(PATIENCE_MS) }
}

/** The same in a line, for where it is always in sight; nothing while all is well. */
export function LinkLine() {
  const { waiting, failure, gone } = useLinkState()
  if (!gone && (failure === null || waiting === 0)) return null
  return (
    <small class="link-line">
      <Icon name="link" />
      {words.linkLine(waiting)}
    </small>
  )
}

export function LinkNotice() {
  const { waiting, failure, refused, lasts, gone } = useLinkState()
  return (
    <>
      {failure !== null && waiting > 0 ? (
        <div class="notice notice-waiting" role="status">
          <Icon name="link" />
          <div>
            <p class="notice-what">{words.waiting(waiting)}</p>
            <p>{lasts ? words.waitingKept : words.waitingOpen}</p>
            <button type="button" class="button" onClick={sendWordsNow}>
              {words.sendNow}
            </button>
          </div>
        </div>
      ) : (
        gone && (
          <div class="notice notice-waiting" role="status">
            <Icon name="link" />
            <div>
              <p class="notice-what">{words.noLink}</p>
              <p>{words.noLinkNote}</p>
            </div>
          </div>
        )
      )}
      {refused !== null && <FailedNotice failure={{ ...refused, what: words.refused(refused.what) }} />}
    </>
  )
}

function useGoneFor(ms: number): boolean {
  const up = useLink()
  const [gone, setGone] = useState(false)
  useEffect(() => {
    if (up) {
      setGone(false)
      return
    }
    const timer = setTimeout(() => setGone(true), ms)
    return () => clearTimeout(timer)
  }, [up, ms])
  return gone
}
