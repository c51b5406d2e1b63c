/** Whether a camera still sees, and still looks where it did: each photo against that camera's own past in the same light. */

/** What is measured of a whole photo (worker/eye/whole-picture.ts). */
export interface MeasuredView {
  readonly contrast: number
  readonly detail: number
  readonly view: Uint8Array
}

/** What a camera's photos were like while it saw. */
export interface LensPast {
  readonly contrast: number
  readonly detail: number
  /** Bits of the view that were nearly always the same, with what they were: the still background. */
  readonly steady: ReadonlyArray<{ readonly bit: number; readonly isSet: boolean }>
}

/**
 * The marks lie between what was measured on the rendered stills of ten cameras, by day and in infra-red, and on the same
 * stills blurred, veiled and turned away (tests/unit/tally/lens.test.ts prints both). A lens behind dust or a web keeps a
 * hundredth of its detail, and no still that sees has less than a sixth of its camera's median.
 */
const BLIND_DETAIL_SHARE = 0.1
const BLIND_CONTRAST_SHARE = 0.25
/** A bit is background where so many photos agree: animals come and go. */
const STEADY_SHARE = 0.8
/** Of the background; healthy stills miss less, one turned away by a tenth of its width by day misses more. */
export const KNOCKED_SHARE = 0.25
/** Fewer steady bits say nothing of where it looks. */
const LEAST_STEADY = 48

/** What the camera's photos were like; they are of one light. @throws RangeError where there are none */
export function lensPast(photos: readonly MeasuredView[]): LensPast {
  if (photos.length === 0) throw new RangeError('a camera without photos has no past')
  const bits = photos[0]!.view.length * 8
  const steady = Array.from({ length: bits }, (_, bit) => {
    const set = photos.filter(({ view }) => isSet(view, bit)).length
    return { bit, isSet: set * 2 >= photos.length, share: Math.max(set, photos.length - set) / photos.length }
  })
  return {
    contrast: median(photos.map(({ contrast }) => contrast)),
    detail: median(photos.map(({ detail }) => detail)),
    steady: steady.filter(({ share }) => share >= STEADY_SHARE),
  }
}

/** `blind`: nothing can be made out. `knocked`: it looks elsewhere. */
export type LensWord = 'sees' | 'blind' | 'knocked'

export function lensWord(photo: MeasuredView, past: LensPast): LensWord {
  if (photo.detail < BLIND_DETAIL_SHARE * past.detail) return 'blind'
  if (photo.contrast < BLIND_CONTRAST_SHARE * past.contrast) return 'blind'
  return missedShare(photo, past) > KNOCKED_SHARE ? 'knocked' : 'sees'
}

/** The part of the background that is not where it was, 0 to 1; 0 where too little of it is steady. */
export function missedShare({ view }: Pick<MeasuredView, 'view'>, { steady }: LensPast): number {
  if (steady.length < LEAST_STEADY) return 0
  return steady.filter(({ bit, isSet: was }) => isSet(view, bit) !== was).length / steady.length
}

const isSet = (view: Uint8Array, bit: number) => ((view[bit >> 3] ?? 0) & (1 << (bit & 7))) !== 0

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2
}
