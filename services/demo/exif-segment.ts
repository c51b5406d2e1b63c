/** The few EXIF tags a trail of demo stills needs, as a JPEG segment: written by hand so that pixels are encoded once. */

export interface StillTags {
  /** By the camera's clock: `2026:11:24 21:30:05`. */
  readonly dateTimeOriginal: string
  /** `+10:30`; null for a camera that does not know its offset. */
  readonly offsetTimeOriginal: string | null
  /** 32 hexadecimal digits, different for each still. */
  readonly imageUniqueId: string
}

const ASCII = 2
const LONG = 4
const UNDEFINED = 7
const EXIF_IFD_AT = 26
const ENTRY_BYTES = 12

type Tag = readonly [number: number, type: number, value: Buffer]

/** A JPEG with an EXIF segment right after its first marker (Exif 2.31, section 4.5.2; tags in section 4.6.5). */
export function withExif(jpeg: Buffer, tags: StillTags): Buffer {
  const tiff = tiffOf([
    [0x9000, UNDEFINED, Buffer.from('0231')],
    [0x9003, ASCII, ascii(tags.dateTimeOriginal)],
    ...(tags.offsetTimeOriginal === null
      ? []
      : [[0x9011, ASCII, ascii(tags.offsetTimeOriginal)] satisfies Tag]),
    [0xa420, ASCII, ascii(tags.imageUniqueId)],
  ])
  const name = Buffer.from('Exif\0\0', 'latin1')
  const marker = Buffer.from([0xff, 0xe1, 0, 0])
  marker.writeUInt16BE(2 + name.length + tiff.length, 2)
  return Buffer.concat([jpeg.subarray(0, 2), marker, name, tiff, jpeg.subarray(2)])
}

/** TIFF 6.0, big-endian: a first directory that only points to the Exif directory; tags come in ascending order. */
function tiffOf(tags: readonly Tag[]): Buffer {
  const head = Buffer.alloc(EXIF_IFD_AT)
  head.write('MM\0*', 'latin1')
  head.writeUInt32BE(8, 4)
  head.writeUInt16BE(1, 8)
  entry(head, 10, { tag: 0x8769, type: LONG, count: 1 }).writeUInt32BE(EXIF_IFD_AT, 18)
  const directory = Buffer.alloc(2 + tags.length * ENTRY_BYTES + 4)
  directory.writeUInt16BE(tags.length, 0)
  const values: Buffer[] = []
  let valuesAt = EXIF_IFD_AT + directory.length
  tags.forEach(([tag, type, value], index) => {
    const at = 2 + index * ENTRY_BYTES
    entry(directory, at, { tag, type, count: value.length })
    // A value of up to four bytes stands in the entry itself.
    if (value.length <= 4) value.copy(directory, at + 8)
    else {
      directory.writeUInt32BE(valuesAt, at + 8)
      values.push(value)
      valuesAt += value.length
    }
  })
  return Buffer.concat([head, directory, ...values])
}

function entry(into: Buffer, at: number, { tag, type, count }: { tag: number; type: number; count: number }) {
  into.writeUInt16BE(tag, at)
  into.writeUInt16BE(type, at + 2)
  into.writeUInt32BE(count, at + 4)
  return into
}

function ascii(text: string): Buffer {
  return Buffer.from(`${text}\0`, 'latin1')
}
