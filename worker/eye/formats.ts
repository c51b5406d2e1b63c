/** What a file is, from its first bytes: names lie, content does not. */

type Mark = readonly [name: string, offset: number, bytes: string]

/** Magic numbers, Latin-1. JPEG: ITU-T T.81 B.1.1; PNG: ISO/IEC 15948 5.2; WebP: RFC 9649 2.4. */
const READ: readonly Mark[] = [
  ['JPEG', 0, '\xff\xd8\xff'],
  ['PNG', 0, '\x89PNG\r\n\x1a\n'],
  ['WebP', 8, 'WEBP'],
]

/** Known, so that the reason can name them, but not read. */
const NOT_READ: readonly Mark[] = [
  ['GIF', 0, 'GIF8'],
  ['TIFF', 0, 'II*\0'],
  ['TIFF', 0, 'MM\0*'],
  ['AVIF', 4, 'ftypavi'],
  ['HEIC', 4, 'ftyphei'],
  ['HEIC', 4, 'ftypmif1'],
  ['MP4 or MOV video', 4, 'ftyp'],
  ['AVI video', 8, 'AVI '],
  ['BMP', 0, 'BM'],
  ['PDF', 0, '%PDF'],
  ['ZIP', 0, 'PK\x03\x04'],
  ['JPEG XL', 0, '\xff\x0a'],
]
const HEAD_BYTES = 512

/** Why a file cannot be a still, or null when its first bytes say JPEG, PNG or WebP. */
export function formatReason(bytes: Buffer): string | null {
  if (bytes.length === 0) return 'The file is empty.'
  const head = bytes.subarray(0, HEAD_BYTES).toString('latin1')
  const find = (marks: readonly Mark[]) => marks.find(([, offset, mark]) => head.startsWith(mark, offset))
  if (find(READ)) return null
  const other = find(NOT_READ)?.[0] ?? (/<svg[\s>]/i.test(head) ? 'SVG' : null)
  return other
    ? `The file is ${other}; only JPEG, PNG and WebP photos can be read.`
    : 'The file is not a photo: it does not begin like a JPEG, PNG or WebP.'
}
