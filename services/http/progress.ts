import type { House } from '../house.ts'
import { readProgress } from '../store/progress.ts'
import type { Progress } from './shapes.ts'

/** How far the looking is, and the demo's past while it is being made. */
export async function progressOf(house: House): Promise<Progress> {
  return { ...(await readProgress(house.ledger)), making: house.making() }
}
