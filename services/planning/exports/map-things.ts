/** What is written for maps: places, a round over them, and areas. The same for every format. */
import type { Instant } from '../../words.ts'
import type { Place } from '../distance.ts'

export interface MapPlace extends Place {
  readonly name: string
  readonly text: string | null
}

export interface MapRound {
  readonly name: string
  /** In order, the first place again at the end where it comes home. */
  readonly places: readonly MapPlace[]
}

export interface MapArea {
  readonly name: string
  readonly text: string | null
  /** Corners in either direction, at least three, none twice. */
  readonly corners: readonly Place[]
}

export interface MapThings {
  readonly name: string
  readonly madeAt: Instant
  readonly places: readonly MapPlace[]
  readonly round: MapRound | null
  readonly areas: readonly MapArea[]
}

/** About a centimetre on the ground: more says nothing (RFC 7946, section 11.2). */
const DECIMALS = 7

/** @throws RangeError outside -90 to 90 degrees */
export function latitude(lat: number): string {
  if (!(lat >= -90 && lat <= 90)) throw new RangeError(`a latitude is -90 to 90 degrees, and this is ${lat}`)
  return plain(lat)
}

/** From -180 up to but not 180, whose place has two names. @throws RangeError outside -180 to 180 degrees */
export function longitude(lon: number): string {
  if (!(lon >= -180 && lon <= 180))
    throw new RangeError(`a longitude is -180 to 180 degrees, and this is ${lon}`)
  const text = plain(lon)
  return text === '180' ? '-180' : text
}

/** As a decimal number, never with an exponent, and no minus before 0. */
const plain = (degrees: number) =>
  degrees
    .toFixed(DECIMALS)
    .replace(/\.?0+$/, '')
    .replace(/^-0$/, '0')
