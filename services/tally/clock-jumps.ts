/** A clock that jumped back in the middle of a card: numbers in the files' names go on, and times fall. */
import type { Instant } from '../words.ts'

const MINUTE_MS = 60_000
/** More than the hour that clocks are put back by, and what drifts (common practice, no source). */
const JUMP_MINUTES = 90
/** Files may be missing between two; a counter that began anew is far away. */
const NEIGHBOURS = 50

export interface NumberedFile {
  readonly stillId: number
  /** Folder and name as they came. */
  readonly name: string
  readonly at: Instant
}

/**
 * The files of one camera that came after its clock jumped back: from the jump to where its time has passed again what it
 * was before. Only files that are numbered on from one another say so; a name that is a date has no number.
 */
export function afterJumpBack(files: readonly NumberedFile[], isDate: (name: string) => boolean): number[] {
  const series = new Map<string, Array<NumberedFile & { readonly number: number }>>()
  for (const file of files) {
    const numbered = isDate(file.name) ? null : numberOf(file.name)
    if (numbered === null) continue
    const own = series.get(numbered.of) ?? []
    own.push({ ...file, number: numbered.number })
    series.set(numbered.of, own)
  }
  return [...series.values()].flatMap((own) => jumpsIn(own.toSorted((a, b) => a.number - b.number)))
}

function jumpsIn(files: ReadonlyArray<NumberedFile & { readonly number: number }>): number[] {
  const after: number[] = []
  let highest: Instant | null = null
  let last: { readonly number: number } | null = null
  for (const file of files) {
    const goesOn = last !== null && file.number - last.number <= NEIGHBOURS
    if (!goesOn) highest = null
    if (highest !== null && file.at < highest - JUMP_MINUTES * MINUTE_MS) after.push(file.stillId)
    else highest = highest === null ? file.at : (Math.max(highest, file.at) as Instant)
    last = file
  }
  return after
}

/** `100MEDIA/IMG_0042.JPG`: number 42 of `100MEDIA/IMG_`; null where the name ends in no number. */
function numberOf(name: string): { readonly of: string; readonly number: number } | null {
  const parts = /^(.*?)(\d{3,8})(\.\w+)?$/s.exec(name)
  return parts === null
    ? null
    : { of: `${parts[1]} ${parts[3]?.toLowerCase() ?? ''}`, number: Number(parts[2]) }
}
