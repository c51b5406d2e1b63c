/** One asking: a namer learned from all checks there are, and its trial on nights it has not seen. */
import type { CountMarks } from './counted-as.ts'
import type { CheckedCrop } from './crop.ts'
import { type Lesson, learnStationNamer, type StationNamer } from './station-namer.ts'
import { type Trial, tryStationNamer } from './trial.ts'

export interface Question extends Lesson {
  readonly crops: readonly CheckedCrop[]
  readonly marks: CountMarks
}

export interface Answer {
  readonly namer: StationNamer
  readonly trial: Trial
}

/** Takes seconds of one core: never where others wait. @throws RangeError as learning does */
export function ask({ crops, ...given }: Question): Answer {
  return { trial: tryStationNamer(crops, given), namer: learnStationNamer(crops, given) }
}
