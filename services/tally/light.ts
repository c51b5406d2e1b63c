/** By day or in infra-red: told by the colour in the photo, not by the clock. */

export type Light = 'day' | 'infra-red' | 'not measured'

/**
 * Under it a photo is grey. The scale of Hasler & Süsstrunk 2003 (Proceedings of SPIE 5007:87-95, doi:10.1117/12.477378)
 * has 0 for no colour and 15 for slight colour; the mark between lets a grey photo have the colour noise of a JPEG.
 */
const GREY_UNDER = 10

/** The light of a photo by its colourfulness; null for one looked at before that was measured. */
export function lightOf(colourfulness: number | null): Light {
  if (colourfulness === null) return 'not measured'
  return colourfulness < GREY_UNDER ? 'infra-red' : 'day'
}
