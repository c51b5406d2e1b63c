import fc from 'fast-check'
import sharp from 'sharp'
import { afterEach, describe, expect, test } from 'vitest'
import { captureTime } from '../../../services/intake/capture-time.ts'
import { readCapture } from '../../../services/intake/exif.ts'
import { parseInstant } from '../../../services/station-time.ts'
import type { Zone } from '../../../services/words.ts'

/** sharp's IFD2 is the Exif IFD. */
type ExifTags = Record<string, string>
const blank = () => sharp({ create: { width: 16, height: 9, channels: 3, background: '#964' } })
const jpeg = (tags: ExifTags) => blank().withExif({ IFD2: tags }).jpeg().toBuffer()
const halfPastNine = { year: 2026, month: 11, day: 24, hour: 21, minute: 30, second: 5 }
const DateTimeOriginal = '2026:11:24 21:30:05'

describe('the capture time in EXIF', () => {
  test('DateTimeOriginal with its offset (Exif 2.31)', async () => {
    expect(await readCapture(await jpeg({ DateTimeOriginal, OffsetTimeOriginal: '+10:30' }))).toEqual({
      taken: halfPastNine,
      offsetMinutes: 630,
      fault: null,
    })
  })
  test('west of Greenwich the offset is negative, by the half hour too', async () => {
    const tags = await readCapture(await jpeg({ DateTimeOriginal, OffsetTimeOriginal: '-03:30' }))
    expect(tags.offsetMinutes).toBe(-210)
  })
  test('DateTimeOriginal goes before the date of digitizing', async () => {
    const tags = await readCapture(await jpeg({ DateTimeOriginal, DateTimeDigitized: '2026:11:25 06:00:00' }))
    expect(tags.taken).toEqual(halfPastNine)
  })
  test('without it the date of digitizing stands, with the offset that belongs to it', async () => {
    const bytes = await jpeg({
      DateTimeDigitized: DateTimeOriginal,
      OffsetTimeDigitized: '+09:30',
      OffsetTimeOriginal: '+02:00',
    })
    expect(await readCapture(bytes)).toEqual({ taken: halfPastNine, offsetMinutes: 570, fault: null })
  })
  test.each(['webp', 'png'] as const)('is read from %s too', async (format) => {
    const bytes = await blank().withExif({ IFD2: { DateTimeOriginal } }).toFormat(format).toBuffer()
    expect(await readCapture(bytes)).toEqual({ taken: halfPastNine, offsetMinutes: null, fault: null })
  })
  test('a still without EXIF says nothing, and that is no fault', async () => {
    expect(await readCapture(await blank().jpeg().toBuffer())).toEqual({
      taken: null,
      offsetMinutes: null,
      fault: null,
    })
  })
})

describe('EXIF that lies or is broken', () => {
  test.each(['0000:00:00 00:00:00', '2026:13:45 99:99:99', '2026:02:29 10:00:00', 'soon'])(
    '"%s" is not a date: absent, and said so',
    async (date) => {
      const tags = await readCapture(await jpeg({ DateTimeOriginal: date }))
      expect(tags.taken).toBeNull()
      expect(tags.fault).toContain(date)
    },
  )
  test('a date left blank is absent and no fault (Exif 2.31: spaces between the colons)', async () => {
    const tags = await readCapture(await jpeg({ DateTimeOriginal: '    :  :     :  :  ' }))
    expect(tags).toEqual({ taken: null, offsetMinutes: null, fault: null })
  })
  test('a bad date leaves the good one beside it standing', async () => {
    const bytes = await jpeg({
      DateTimeOriginal: '0000:00:00 00:00:00',
      DateTimeDigitized: DateTimeOriginal,
    })
    expect((await readCapture(bytes)).taken).toEqual(halfPastNine)
  })
  test.each(['+25:00', '+10:75', 'ACDT', '+1030 hours'])(
    '"%s" is no offset: the date stands without',
    async (o) => {
      const tags = await readCapture(await jpeg({ DateTimeOriginal, OffsetTimeOriginal: o }))
      expect(tags.taken).toEqual(halfPastNine)
      expect(tags.offsetMinutes).toBeNull()
      expect(tags.fault).toContain(o)
    },
  )
  test.each([
    ['nothing', Buffer.alloc(0)],
    ['text', Buffer.from('not a photo')],
    ['an EXIF block of noise', Buffer.from('ffd8ffe1001445786966000001020304050607080910', 'hex')],
    ['the first bytes of a WebP', Buffer.from('RIFF\x00\x00\x00\x00WEBPVP8X', 'latin1')],
    ['the first bytes of a PNG', Buffer.from('\x89PNG\r\n\x1a\n', 'latin1')],
  ])('%s has no capture time and stops nothing', async (_, bytes) => {
    expect((await readCapture(bytes)).taken).toBeNull()
  })
  test('no byte changed anywhere in the EXIF makes it throw', async () => {
    const whole = await jpeg({ DateTimeOriginal, OffsetTimeOriginal: '+10:30' })
    const change = fc.tuple(fc.nat(300), fc.nat(255))
    await fc.assert(
      fc.asyncProperty(fc.array(change, { minLength: 1, maxLength: 6 }), async (changes) => {
        const broken = Buffer.from(whole)
        for (const [at, value] of changes) broken[at] = value
        expect(await readCapture(broken)).toHaveProperty('taken')
      }),
      { numRuns: 300 },
    )
  })
  test('nor does any cut', async () => {
    const whole = await jpeg({ DateTimeOriginal })
    for (let length = 0; length < whole.length; length += 7)
      expect(await readCapture(whole.subarray(0, length))).toHaveProperty('fault')
  })
})

describe("this machine's own zone", () => {
  const before = process.env.TZ
  afterEach(() => {
    if (before === undefined) delete process.env.TZ
    else process.env.TZ = before
  })
  test.each(['UTC', 'Australia/Adelaide', 'America/St_Johns', 'Pacific/Kiritimati'])(
    'does not matter: %s',
    async (machineZone) => {
      process.env.TZ = machineZone
      // Node reads TZ anew when it is set: if it did not, this test would show nothing.
      expect(new Intl.DateTimeFormat().resolvedOptions().timeZone).toBe(machineZone)
      const { takenAt } = captureTime({
        tags: await readCapture(await jpeg({ DateTimeOriginal })),
        senderAt: null,
        fileName: null,
        fileTime: null,
        arrivedAt: parseInstant('2026-11-25T00:00:00Z'),
        zone: 'Australia/Adelaide' as Zone,
        clockErrorSeconds: 0,
      })
      expect(new Date(takenAt).toISOString()).toBe('2026-11-24T11:00:05.000Z')
    },
  )
})
