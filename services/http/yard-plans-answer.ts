/** Gate plans as the API keeps and answers them. */
import type { KeptYardPlan, YardPlanFigures } from '../planning/yard-plan.ts'
import { Refusal } from '../refusal.ts'
import { toStationTime } from '../station-time.ts'
import type { Ledger } from '../store/open.ts'
import type { YardPlanVersion } from '../store/yard-plans.ts'
import type { Instant, Zone } from '../words.ts'
import type { KeptPlan, YardTryAnswer } from './trap-yard-shapes.ts'
import { yardFacts } from './yard-facts.ts'
import { tryOf } from './yard-try-answer.ts'

const LACKS: Readonly<Record<YardTryAnswer['lacks'][number]['lack'], string>> = {
  'not said': 'nobody has confirmed other water for its stock and wildlife',
  'taken back': 'the word that there is other water was taken back',
  'ask again': 'the word that there is other water has grown old',
  'closed as well': 'its other water would be closed as well',
  'off or dry': 'its other water is off or dry',
  'kept open': 'it is the other water of another point',
}

/**
 * What is expected of a plan now: it is kept with it.
 * @throws Refusal for a water that would be closed without other water being sure
 */
export async function figuresOf(
  ledger: Ledger,
  { plan, now }: { readonly plan: KeptYardPlan; readonly now: Instant },
): Promise<YardPlanFigures> {
  const facts = await yardFacts(ledger, { species: plan.species, now })
  const tried = tryOf(facts, plan.pointIds, 'pointIds')
  const [lacking] = tried.lacks
  if (lacking !== undefined) {
    const { name } = facts.points.find(({ id }) => id === lacking.pointId)!
    throw new Refusal({
      kind: 'conflict',
      detail: `${name} can't be closed: ${LACKS[lacking.lack]}.`,
      field: 'pointIds',
      remedy: `Confirm other water for ${name}, or leave it out of the plan.`,
    })
  }
  return {
    met: tried.met,
    metIfKeeping: tried.metIfKeeping,
    notMet: tried.notMet,
    of: tried.of,
    closedWhole: tried.leftOpen.length === 0 && tried.closedWhole.length > 0,
    shiftsTo: tried.shiftsTo,
    lookedAt: facts.lookedAt,
  }
}

export const keptPlanOf = (
  { planId, version, at, who, withdrawn, plan, shown }: YardPlanVersion,
  zone: Zone,
): KeptPlan => ({
  planId,
  version,
  at: toStationTime(at, zone),
  who,
  withdrawn,
  plan: { ...plan, pointIds: [...plan.pointIds] },
  shown: { ...shown, shiftsTo: [...shown.shiftsTo] },
})
