/** What a row says of cattle: the limit in force at the point, whether it is passed, and what people said that explains it. */
import { toStationTime } from '../station-time.ts'
import type { CattleNews, KeptLimit } from '../store/cattle-limits.ts'
import { toInstant } from '../store/instants.ts'
import type { Settings } from '../store/settings.ts'
import type { WaterRunFacts } from '../store/water-run.ts'
import { seasonOf } from '../tally/absences.ts'
import { awayBecause } from '../tally/cattle-away.ts'
import { heatStaysOf, LEAST_STAY_HOURS } from '../tally/heat-stays.ts'
import { oneIn } from '../tally/learned-limit.ts'
import { nightOf } from '../tally/nights.ts'
import { heldLimit, hoursInForce, NORMAL_FOR_DAYS } from '../tally/silence-limit.ts'
import { cattleState } from '../tally/water-words.ts'
import type { Instant, Spell } from '../words.ts'
import type { CattleAnswer } from './cattle-shapes.ts'
import { rounded } from './rounded.ts'

const DAY_MS = 86_400_000

export interface CattleFrame {
  readonly settings: Settings
  readonly now: Instant
  readonly news: CattleNews
}

/** The limit at a point, in watched hours, and how it was reached. */
export function limitAt({ point }: Pick<WaterRunFacts, 'point'>, { settings, now, news }: CattleFrame) {
  const season = seasonOf(nightOf(now, settings.zone), point.lat)
  const learned = news.away(point.id, season)
  const said = news.said(point.id)
  const held = heldLimit(learned, settings.cattleAwayHours)
  const hours = hoursInForce(held, { said, longestHours: settings.cattleAwayHours, now })
  // Where it does not lift the limit, the word is no news.
  const lifted = said !== null && hours > held.hours ? said : null
  return { hours, season, learned, heldAt: held.heldAt, lifted }
}

export function cattleOf(facts: WaterRunFacts, watched: readonly Spell[], frame: CattleFrame): CattleAnswer {
  const { settings, now } = frame
  const lastSeenAt = facts.lastCattle && toInstant(facts.lastCattle.at)
  const limit = limitAt(facts, frame)
  const state = cattleState({ lastSeenAt, now, limitHours: limit.hours, watched })
  const words = facts.states.map(({ kind, at, source }) => ({ kind, at: toInstant(at), source }))
  const because = state === 'not in' ? awayBecause(words, now) : null
  return {
    lastSeenAt: lastSeenAt && toStationTime(lastSeenAt, settings.zone),
    stillId: facts.lastCattle?.stillId ?? null,
    state: because?.stops ? 'away' : state,
    limit: lastSeenAt === null ? null : limitAnswer(limit, settings),
    because: because && { ...because, at: toStationTime(because.at, settings.zone) },
    hanging: hangingAt(facts, frame),
  }
}

function limitAnswer(
  { hours, season, learned, heldAt, lifted }: ReturnType<typeof limitAt>,
  { cattleAwayHours, zone }: Settings,
): CattleAnswer['limit'] {
  return {
    hours: rounded(hours),
    longestHours: cattleAwayHours,
    season,
    learned: learned && learnedAnswer(learned),
    heldAt,
    normalUntil: lifted && toStationTime((lifted.at + NORMAL_FOR_DAYS * DAY_MS) as Instant, zone),
  }
}

const learnedAnswer = (learned: KeptLimit) => ({
  hours: rounded(learned.hours),
  from: learned.learnedFrom,
  absences: learned.ended,
  oneIn: oneIn(learned, learned.points),
})

/** The longest stay of the last day that passes the point's limit. */
function hangingAt({ point }: WaterRunFacts, { settings, now, news }: CattleFrame): CattleAnswer['hanging'] {
  const { zone } = settings
  const limit = news.heatStay(point.id, seasonOf(nightOf(now, zone), point.lat))
  if (limit === null) return null
  const [longest] = heatStaysOf(news.stays(point.id), { leastHead: limit.leastHead, zone })
    .filter(({ from, hours }) => hours > limit.hours && hours >= LEAST_STAY_HOURS && from > now - DAY_MS)
    .sort((a, b) => b.hours - a.hours)
  if (longest === undefined) return null
  return {
    from: toStationTime(longest.from, zone),
    hours: rounded(longest.hours),
    head: longest.peak,
    limitHours: rounded(limit.hours),
  }
}
