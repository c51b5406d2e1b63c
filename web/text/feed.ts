/** How long feed lasts without rain, in words. */
import type { MusterAnswerShape } from '../../services/http/muster-shapes.ts'
import { list } from './counts.ts'
import { dayName } from './times.ts'

type FeedNotTold = MusterAnswerShape['feedNotTold'][number]['why']
type Feed = MusterAnswerShape['feed'][number]

const FEED_NOT_TOLD: Readonly<Record<FeedNotTold, string>> = {
  'no feed given': 'Nobody has rated the feed of',
  'not watched': 'Not watched, so nobody can say what eats there:',
}

/** `Nobody has rated the feed of Kite Bore and Galah Well.`, a line for each reason. */
export function feedNotToldLines({ feedNotTold, points }: MusterAnswerShape): string[] {
  const names = new Map(points.map(({ pointId, name }) => [pointId, name]))
  return (Object.keys(FEED_NOT_TOLD) as FeedNotTold[]).flatMap((why) => {
    const at = feedNotTold.filter((one) => one.why === why).map(({ pointId }) => names.get(pointId)!)
    return at.length === 0 ? [] : [`${FEED_NOT_TOLD[why]} ${list(at)}.`]
  })
}

/** `runs out on Tue 5 Jan`, `may run out, on Tue 5 Jan at the earliest`, `lasts` */
export function feedWords({ says, runsOutOn }: Feed): string {
  if (says === 'lasts') return 'lasts'
  if (says === 'runs out' && runsOutOn.middle !== null) return `runs out, about ${dayName(runsOutOn.middle)}`
  return runsOutOn.low === null ? says : `${says}, on ${dayName(runsOutOn.low)} at the earliest`
}

/** `41 (20 to 90)`; `no end` where nothing may eat there. */
export function feedDaysWords({ low, middle, high }: Feed['days']): string {
  const days = (value: number | null) =>
    value === null ? 'no end' : value < 1 ? 'under 1' : Math.floor(value).toLocaleString('en-AU')
  if (middle === null) return low === null ? 'no end' : `${days(low)} or more`
  return `${days(middle)} (${days(low)} to ${days(high)})`
}
