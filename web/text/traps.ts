/** Traps in words: how each stands, what it holds, and when somebody has to be there. */
import type { TrapAnswer } from '../../services/http/trap-shapes.ts'
import { head as headOf, plural } from './counts.ts'
import { age, clockOf, dayName, lengthOf } from './times.ts'
import type { Fact } from './water-run.ts'

/** `14 camels`, `14 head` where nobody said of what. */
export function heldWords({ head, species }: NonNullable<TrapAnswer['held']>): string {
  return species === null ? `${head} head` : headOf(species, head)
}

/** `Thu 26 Nov, 06:10` */
export function dueWords(dueBy: string): string {
  return `${dayName(dueBy)}, ${clockOf(dueBy)}`
}

/** Nobody was there for so long; louder where animals are inside. */
function overdueWords(trap: TrapAnswer, now: string): string {
  const since = lengthOf(trap.visitedAt, now)
  if (trap.held === null) return `Trap set, not visited for ${since}: visit it now`
  return `${heldWords(trap.held)} held, not visited for ${since}: go now, with water, shade and feed`
}

export function trapFact(trap: TrapAnswer, now: string): Fact {
  if (trap.overdue) return { tone: 'alarm', words: overdueWords(trap, now) }
  if (trap.dueBy !== null) {
    const what = trap.held === null ? 'Trap set' : `${heldWords(trap.held)} held`
    return {
      tone: 'look',
      words: `${what}, visited ${age(trap.visitedAt, now)}: next by ${dueWords(trap.dueBy)}`,
    }
  }
  if (trap.state === 'open' && trap.at !== null)
    return { tone: 'plain', words: `Trap open ${age(trap.at, now)}` }
  if (trap.state === null) return { tone: 'plain', words: `Yard visited ${age(trap.visitedAt, now)}` }
  return { tone: 'plain', words: 'Trap shut down' }
}

/** The line of the Water run's head; null for a trap that asks for nobody. */
export function trapTrouble(trap: TrapAnswer, { name, now }: { name: string; now: string }): Fact | null {
  if (trap.dueBy === null) return null
  const since = lengthOf(trap.visitedAt, now)
  const held = trap.held === null ? null : heldWords(trap.held)
  if (trap.overdue && held !== null)
    return { tone: 'alarm', words: `${held} held at ${name} and nobody there for ${since}: go now` }
  if (trap.overdue)
    return { tone: 'alarm', words: `Trap set at ${name} and not visited for ${since}: visit it now` }
  const what = held === null ? `Trap set at ${name}` : `${held} held at ${name}`
  return { tone: 'look', words: `${what}: visit by ${dueWords(trap.dueBy)}` }
}

export const trapWords = {
  alarmHead: (late: number) =>
    late === 0 ? 'Traps that ask for a visit' : `${plural(late, 'trap')} not visited in time`,
  cameraIsNoVisit: 'A look through a camera is not a visit.',
  visitedBy: (who: string, at: string) => `Somebody was last there ${dayName(at)}, ${clockOf(at)}: ${who}.`,
  hoursHead: 'How often a set trap is visited',
  hours: 'Hours between visits, at most',
  pointHoursHint: 'For this point; never longer than the station’s. Empty: the station’s.',
  stationHoursHint:
    'For every set trap, and for head held: 24 at most, fewer where heat or local codes ask for it.',
  hoursSave: 'Save hours',
  hoursSaid: 'hours between visits',
} as const
