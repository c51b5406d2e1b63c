/** A photo's page follows every word on the photo, whoever says it. */
import { useEffect, useState } from 'preact/hooks'
import type { Still } from '../../../services/http/shapes.ts'
import { useChanges } from '../../api/changes.ts'
import { hearWords, wordsTakenSince, wordsWaiting } from '../../api/words-out.ts'
import { type StillNow, stillNow } from '../check/standing.ts'

/** The photo with what was said here and is not answered yet; asks again once the service has it, or others spoke. */
export function useStillNow(
  still: Still,
  { askedAt, reload }: { readonly askedAt: number | null; readonly reload: () => void },
): StillNow {
  const [, draw] = useState(0)
  // Words that an earlier page left may go out while this one still asks for the photo.
  useEffect(() => {
    if (askedAt !== null && wordsTakenSince(askedAt)) reload()
  }, [askedAt, reload])
  useEffect(
    () =>
      hearWords({
        said: () => draw((turn) => turn + 1),
        dropped: () => draw((turn) => turn + 1),
        taken: reload,
      }),
    [reload],
  )
  useChanges(({ stillIds }) => {
    if (stillIds?.includes(still.id) ?? true) reload()
  })
  return stillNow(still, wordsWaiting())
}
