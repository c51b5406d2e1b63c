/** A card that was not all in when its page was closed: kept in this browser, so that it is gone on with. */
import { remember, remembered } from '../../parts/memory.ts'

const NAME = 'card'
const PARTED = '\t'

export interface UnfinishedCard {
  readonly cameraId: number
  readonly camera: string
  readonly folder: string
  readonly done: number
  readonly total: number
}

export function keepUnfinished(card: UnfinishedCard | null): void {
  const { cameraId, done, total, camera, folder } = card ?? {}
  remember(NAME, card === null ? '' : [cameraId, done, total, camera, folder].join(PARTED))
}

/** Null where there is none, or what is kept is of another making. */
export function unfinishedCard(): UnfinishedCard | null {
  const [cameraId, done, total, camera, folder] = (remembered(NAME) ?? '').split(PARTED)
  const numbers = [cameraId, done, total].map(Number)
  if (camera === undefined || folder === undefined || !numbers.every(Number.isInteger)) return null
  return { cameraId: numbers[0]!, done: numbers[1]!, total: numbers[2]!, camera, folder }
}
