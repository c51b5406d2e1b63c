/** The map of waters and gates for whoever can't see it. */
import type { TrapYardsAnswer, YardPoint } from '../../services/http/trap-yard-shapes.ts'
import { plural } from './counts.ts'
import { near } from './head-range.ts'
import { namesOf } from './trap-yards.ts'

export function mapLabel(answer: TrapYardsAnswer, set: readonly number[]): string {
  const gates = set.length === 0 ? 'No gates are set in this plan.' : `Gates at ${namesOf(answer, set)}.`
  return `Map of the ${plural(answer.points.length, 'water')} of ${answer.station}, north up. ${gates}`
}

const USES: Readonly<Record<YardPoint['use'], string>> = {
  seen: 'they drink here',
  'not seen': 'watched, none seen',
  'not watched enough': 'not watched enough to say',
}

/** A point of the map for whoever can't see it. */
export function pointTold({ name, hasYard, use, rate }: YardPoint, isSet: boolean): string {
  const parts = [
    ...(isSet ? ['gates here'] : []),
    hasYard ? 'a yard stands' : isSet ? 'a portable yard' : 'no yard',
    use === 'seen' && rate !== null ? `${near(rate.rate)} animal-visits a night` : USES[use],
  ]
  return `${name}: ${parts.join(', ')}.`
}

export const scaleWords = (km: number): string => `${km} km`
