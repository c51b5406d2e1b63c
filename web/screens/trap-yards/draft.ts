/** A gate plan while it is made: points, hours and days as a person wants them. */
import type { KeptPlan, TrapYardsAnswer } from '../../../services/http/trap-yard-shapes.ts'
import { nightAfter } from '../../text/times.ts'

export interface Draft {
  readonly points: readonly number[]
  /** In per cent; 100: any number. */
  readonly cattlePercent: number
  readonly mostHours: number
  /** Null: as worked out. */
  readonly chosen: { readonly from: number; readonly to: number } | null
  readonly first: string
  readonly nights: string
  /** The plan that is changed, and from which version; null: a new one. */
  readonly of: { readonly planId: number; readonly version: number } | null
  readonly name: string
  readonly note: string
}

const USUAL_CATTLE_PERCENT = 10
const USUAL_MOST_HOURS = 12

/** What is proposed: whole clusters, else where the yards meet most; nothing as long as other water is not sure. */
export function proposedPoints({ close, meet }: TrapYardsAnswer): readonly number[] {
  if (close.clusterIds.length > 0) return [...close.standingAt, ...close.portableAt]
  return meet === null ? [] : [...meet.standingAt, ...meet.portableAt]
}

export function draftOf(answer: TrapYardsAnswer): Draft {
  return {
    points: proposedPoints(answer),
    cattlePercent: USUAL_CATTLE_PERCENT,
    mostHours: USUAL_MOST_HOURS,
    chosen: null,
    first: nightAfter(answer.today, 1),
    nights: String(answer.means.nightsSet),
    of: null,
    name: '',
    note: '',
  }
}

export function draftOfPlan({ planId, version, plan }: KeptPlan): Draft {
  return {
    points: plan.pointIds,
    cattlePercent: Math.round(plan.cattleShare * 100),
    mostHours: USUAL_MOST_HOURS,
    chosen: plan.hours,
    first: plan.fromNight,
    nights: String(plan.nights),
    of: { planId, version },
    name: plan.name,
    note: plan.note ?? '',
  }
}
