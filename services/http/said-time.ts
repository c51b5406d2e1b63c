/** Times that a sender or a person names in a request. */
import { FIRST_BELIEVED_DATE } from '../intake/clock-doubt.ts'
import { Refusal } from '../refusal.ts'
import { parseInstant } from '../station-time.ts'
import type { Instant } from '../words.ts'

const MS_PER_MINUTE = 60_000
const FIRST_BELIEVED = Date.parse(`${FIRST_BELIEVED_DATE}T00:00:00Z`)

/**
 * The instant named, or now where none is. A clock a little ahead is taken at its word; one further ahead, or from before
 * there were such cameras, is wrong, and what it says would count for nights that nobody watched.
 * @throws Refusal that names the field.
 */
export function saidTime(
  said: string | undefined,
  {
    field,
    now,
    aheadMinutes,
    remedy = 'Leave the time out to mean now, or set the clock of the sender right.',
  }: {
    readonly field: string
    readonly now: Instant
    readonly aheadMinutes: number
    readonly remedy?: string
  },
): Instant {
  if (said === undefined) return now
  const at = parseInstant(said)
  const ahead = at > now + aheadMinutes * MS_PER_MINUTE
  if (!ahead && at >= FIRST_BELIEVED) return at
  throw new Refusal({
    kind: 'bad input',
    detail: `${field}: ${said} is ${ahead ? 'in the future' : 'before there were such cameras'}.`,
    field,
    remedy,
  })
}
