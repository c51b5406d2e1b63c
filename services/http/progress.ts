import type { House } from '../house.ts'
import { readProgress } from '../store/progress.ts'
import { findRecount } from '../store/recount.ts'
import { findOpenRerun } from '../store/reruns.ts'
import type { Progress } from './shapes.ts'

/** How far the looking is, the looking again and the counting again, and the demo's past while it is being made. */
export async function progressOf(house: House): Promise<Progress> {
  const [looked, rerun, recount] = await Promise.all([
    readProgress(house.ledger),
    findOpenRerun(house.ledger),
    findRecount(house.ledger),
  ])
  return {
    ...looked,
    making: house.making(),
    again: rerun && {
      done: rerun.done + rerun.failed,
      of: rerun.total,
      paused: rerun.state === 'paused',
    },
    recount: recount && { done: recount.done, of: recount.total, paused: recount.state === 'paused' },
  }
}
