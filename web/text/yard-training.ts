/** Words of the weeks of open gates. */
import type { YardPoint } from '../../services/http/trap-yard-shapes.ts'
import { list } from './counts.ts'
import { dayName } from './times.ts'

const BY: Readonly<Record<NonNullable<YardPoint['training']['firstUsed']>['by'], string>> = {
  said: 'as said',
  'trap open': 'first visit since the trap was open',
  'yard there': 'first visit in the photos, with the yard there',
}
const STAGES: Readonly<Record<YardPoint['training']['stage'], string>> = {
  'not used yet': 'not used yet',
  'gates open': 'gates tied open',
  'one-way gates': 'one-way gates, look at tracks',
  'ready to set': 'ready to set, if the tracks say so',
}
const STEPS: Readonly<Record<YardPoint['training']['days'][number]['step'], string>> = {
  'tie gates open': 'tie gates open',
  'look at tracks': 'look at tracks',
  'hang one-way gates': 'hang one-way gates',
  'set the trap': 'set the trap',
}

const TRAPS: Readonly<Record<NonNullable<YardPoint['trap']>, string>> = {
  open: 'trap open now',
  set: 'trap set now',
  'shut down': 'trap shut down',
}
export const trapWords = ({ trap }: YardPoint): string | null => trap && TRAPS[trap]

export const stageWords = ({ training }: YardPoint): string => STAGES[training.stage]

export function trainingLine({ training, hasYard }: YardPoint): string {
  if (training.firstUsed === null)
    return hasYard
      ? 'The yard has not been seen used. Tie the gates open; the days begin with its first use.'
      : 'No yard stands there. Put panels up and tie the gates open; the days begin with the first use.'
  return `First used ${dayName(training.firstUsed.on)} (${BY[training.firstUsed.by]}).`
}

/** What is still to come, `today` included. */
export function stepsLeft({ training }: YardPoint, today: string): string | null {
  const left = training.days.filter(({ on }) => on >= today)
  if (left.length === 0) return null
  return `Still to come: ${list(left.map(({ on, step }) => `${STEPS[step]} ${dayName(on)}`))}.`
}

/** A point whose animals do not know the yard yet on the plan's first day. */
export function tooSoon(point: YardPoint, first: string): string | null {
  const ready = point.training.days.find(({ step }) => step === 'set the trap')?.on ?? null
  if (ready !== null && ready <= first) return null
  return ready === null
    ? 'animals do not know this yard yet'
    : `later than the plan’s first day: ${dayName(ready)} at the earliest`
}
