/** Words of the hours and days for which gates are set. */
import type { GateHoursAnswer } from '../../services/http/trap-yard-shapes.ts'
import { plural, speciesMany } from './counts.ts'
import { headRange } from './head-range.ts'
import { clockOfHours } from './hours.ts'
import { clockOf } from './times.ts'
import { planWords } from './yard-plan.ts'

const percent = (share: number) => Math.round(share * 100)
const span = ({ low, high }: { readonly low: number; readonly high: number }) =>
  `${percent(low)} to ${percent(high)}`

/** `Set at 20:00, shut down at 08:00: 12 hours.` */
export function hoursTitle({ answer }: GateHoursAnswer): string {
  if (answer.kind !== 'window') return ''
  if (answer.hours === 24) return 'Set all day round.'
  return `Set at ${clockOfHours(answer.from)}, shut down at ${clockOfHours(answer.to)}: ${plural(answer.hours, 'hour')}.`
}

/** The chart for whoever can't see it; its numbers stand beside it in words. */
export function hoursChart({ species, answer }: GateHoursAnswer): string {
  const shaded = answer.kind === 'window' ? '; the hours of the plan are shaded' : ''
  return `Visits of ${speciesMany(species)} and of cattle by the hour of the day${shaded}.`
}

export function hoursLines(told: GateHoursAnswer): string[] {
  const { answer, species } = told
  const many = speciesMany(species)
  if (answer.kind === 'too few visits')
    return [
      `Too few visits of ${many} at these points to tell their hours: ${answer.visits}, and it takes ${answer.least}. Choose the hours yourself.`,
    ]
  if (answer.kind === 'no window') return [planWords.noWindow]
  const range = answer.target.interval === null ? 'too few nights for a range' : span(answer.target.interval)
  return [
    `${percent(answer.target.share)} in 100 visits of ${many} fall in these hours (${range}): ${plural(answer.target.visits, 'visit')} in ${plural(answer.nights, 'night')}.`,
    cattleLine(answer),
  ]
}

function cattleLine(answer: Extract<GateHoursAnswer['answer'], { kind: 'window' }>): string {
  const { cattle, cattleHeadANight, cattleVisits } = answer
  if (cattle === null)
    return `Cattle came too seldom (${plural(cattleVisits, 'visit')}) to know their hours, so no bound on cattle was kept: look in more often.`
  const range = cattle.interval === null ? '' : ` (${span(cattle.interval)})`
  const head =
    cattleHeadANight === null
      ? 'how many head that is on a night can’t be told yet'
      : `${headRange(cattleHeadANight)} of cattle a night meet a set trap`
  return `Cattle: ${percent(cattle.share)} in 100 of their visits${range}; ${head}.`
}

export function visitsLine({ visits, days, pointIds }: GateHoursAnswer): string {
  return `${plural(pointIds.length, 'trap')} for ${plural(days.length, 'day')}: at least ${plural(visits, 'visit')} of people to set traps, and more where heat, local codes or the number inside ask for it.`
}

type Sky = GateHoursAnswer['days'][number]['sky']
const PHASES: Readonly<Record<Sky['phase'], string>> = {
  new: 'new moon',
  waxing: 'waxing',
  full: 'full moon',
  waning: 'waning',
}

/** `full moon, 98 % lit, up 19:40`: its times while it is dark; by day it lights nothing. */
export function moonWords({ phase, lit, moonrise, moonset, sunset, sunrise }: Sky): string {
  const isDark = (time: string) =>
    (sunset === null || Date.parse(time) >= Date.parse(sunset)) &&
    (sunrise === null || Date.parse(time) <= Date.parse(sunrise))
  const times = [
    ...(moonrise !== null && isDark(moonrise) ? [`up ${clockOf(moonrise)}`] : []),
    ...(moonset !== null && isDark(moonset) ? [`down ${clockOf(moonset)}`] : []),
  ]
  return [PHASES[phase], `${percent(lit)} % lit`, ...times].join(', ')
}

export const sunWords = ({ sunset, sunrise }: Sky): string =>
  `${sunset === null ? '–' : clockOf(sunset)}, ${sunrise === null ? '–' : clockOf(sunrise)}`
