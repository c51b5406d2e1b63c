/** PNG files written by hand, for sizes that nobody should have to draw. */
import { deflateSync } from 'node:zlib'

/** A PNG that says how large it is and holds almost nothing: the size of a picture bomb without its pixels. */
export function pngThatClaims(width: number, height: number): Buffer {
  return pngOf(width, height, Buffer.alloc(64))
}

/** A true picture of one black bit a pixel: a small file, and large once unpacked. */
export function blackPng(width: number, height: number): Buffer {
  // Each row begins with its filter's number (ISO/IEC 15948, section 9).
  return pngOf(width, height, Buffer.alloc(height * (1 + Math.ceil(width / 8))))
}

function pngOf(width: number, height: number, rows: Buffer): Buffer {
  const header = Buffer.alloc(13)
  header.writeUInt32BE(width, 0)
  header.writeUInt32BE(height, 4)
  // One bit a pixel, grey.
  header.set([1, 0, 0, 0, 0], 8)
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(rows)),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function chunk(type: string, data: Buffer): Buffer {
  const whole = Buffer.alloc(12 + data.length)
  whole.writeUInt32BE(data.length, 0)
  whole.write(type, 4, 'latin1')
  data.copy(whole, 8)
  whole.writeUInt32BE(crc32(whole.subarray(4, 8 + data.length)), 8 + data.length)
  return whole
}

/** CRC-32 of PNG chunks (ISO/IEC 15948, annex D). */
function crc32(bytes: Buffer): number {
  let crc = 0xffffffff
  for (const byte of bytes) {
    crc ^= byte
    for (let bit = 0; bit < 8; bit += 1) crc = (crc >>> 1) ^ (crc & 1 ? 0xedb88320 : 0)
  }
  return (crc ^ 0xffffffff) >>> 0
}
