/** What bytes are, from the first of them: names lie, content does not. For intake and for the eye. */

/** Over this a picture is kept but not decoded: a small file can hold one that fills the memory. */
export const MAX_PICTURE_MEGAPIXELS = 100

export type PictureFormat = 'jpeg' | 'png' | 'webp'

export type FileKind =
  | { readonly kind: 'picture'; readonly format: PictureFormat }
  /** `name` with its article, such as `a video`; null where the bytes are nothing known. */
  | { readonly kind: 'other'; readonly name: string | null }

type Sign = readonly [at: number, sign: string]

/** Signs in Latin-1; all of a row must stand. JPEG: ITU-T T.81 B.1.1; PNG: ISO/IEC 15948 5.2; WebP: RFC 9649 2.4. */
const PICTURES: readonly (readonly [format: PictureFormat, ...signs: readonly Sign[]])[] = [
  ['jpeg', [0, '\xff\xd8\xff']],
  ['png', [0, '\x89PNG\r\n\x1a\n']],
  ['webp', [0, 'RIFF'], [8, 'WEBP']],
]

/** What a camera, a modem or a hand may send instead (format signatures, from memory); the first that fits. */
const OTHERS: readonly (readonly [name: string, at: number, sign: string])[] = [
  ['a GIF', 0, 'GIF8'],
  ['a TIFF', 0, 'II*\0'],
  ['a TIFF', 0, 'MM\0*'],
  ['a BMP', 0, 'BM'],
  ['a JPEG XL', 0, '\xff\x0a'],
  ['a HEIC photo', 4, 'ftyphei'],
  ['a HEIC photo', 4, 'ftypmif1'],
  ['an AVIF photo', 4, 'ftypavi'],
  ['a video', 4, 'ftyp'],
  ['a video', 4, 'moov'],
  ['a video or a sound', 0, 'RIFF'],
  ['a PDF', 0, '%PDF'],
  ['a ZIP archive', 0, 'PK\x03\x04'],
  ['a web page', 0, '<!DOCTYPE'],
  ['a web page', 0, '<!doctype'],
  ['a web page', 0, '<html'],
]
const HEAD_BYTES = 512

/** What the bytes are by their first 512; nothing is decoded, so what follows may still be broken. */
export function fileKind(bytes: Buffer): FileKind {
  const head = bytes.toString('latin1', 0, HEAD_BYTES)
  const picture = PICTURES.find(([, ...signs]) => signs.every(([at, sign]) => head.startsWith(sign, at)))
  if (picture !== undefined) return { kind: 'picture', format: picture[0] }
  const other = OTHERS.find(([, at, sign]) => head.startsWith(sign, at))
  return { kind: 'other', name: other?.[0] ?? textKind(head) }
}

function textKind(head: string): string | null {
  if (/<svg[\s>]/i.test(head)) return 'an SVG drawing'
  return head.startsWith('<?xml') ? 'an XML file' : null
}
