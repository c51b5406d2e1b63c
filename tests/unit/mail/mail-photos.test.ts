import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { photosOfMail } from '../../../services/mail/mail-photos.ts'
import { jpegNamed, type MadeAttachment, makeMail } from '../../integration/mails.ts'

const blank = (width: number, height: number) =>
  sharp({ create: { width, height, channels: 3, background: '#a86' } })
const PHOTO = await blank(320, 240).jpeg().toBuffer()

const mailWith = (...attachments: readonly MadeAttachment[]) =>
  Buffer.from(
    makeMail({
      from: 'camera@mobile.example',
      to: 'station+kite@post.example',
      subject: 'Photo',
      date: 'Tue, 24 Nov 2026 21:30:05 +1030',
      attachments,
    }),
  )
const photosIn = async (...attachments: readonly MadeAttachment[]) =>
  (await photosOfMail(mailWith(...attachments))).photos.map(({ fileName }) => fileName)

describe('which attachments are photos', () => {
  test('each comes with its name and its bytes', async () => {
    const { photos } = await photosOfMail(mailWith(jpegNamed('a.jpg', PHOTO), jpegNamed('b.jpg', PHOTO)))
    expect(photos.map(({ fileName }) => fileName)).toEqual(['a.jpg', 'b.jpg'])
    expect(photos[0]!.bytes.equals(PHOTO)).toBe(true)
  })
  test('one by its content, whatever it is called', async () => {
    expect(await photosIn({ name: 'upload.bin', type: 'application/octet-stream', bytes: PHOTO })).toEqual([
      'upload.bin',
    ])
    expect(await photosIn({ name: null, type: 'text/plain', bytes: PHOTO })).toHaveLength(1)
  })
  test('what says it is a photo and is broken is kept, so that it is seen', async () => {
    expect(await photosIn(jpegNamed('cut.jpg', Buffer.from('no photo')))).toEqual(['cut.jpg'])
    expect(
      await photosIn({ name: 'a.JPG', type: 'application/octet-stream', bytes: Buffer.from([0, 0, 0]) }),
    ).toEqual(['a.JPG'])
  })
  test('papers, clips and senders’ marks are left out, and counted', async () => {
    const badge = await blank(128, 40).png().toBuffer()
    const mail = mailWith(
      { name: 'report.pdf', type: 'application/pdf', bytes: Buffer.from('%PDF-1.7') },
      { name: 'clip.mp4', type: 'video/mp4', bytes: Buffer.from('\0\0\0\x18ftypmp42') },
      { name: 'logo.gif', type: 'image/gif', bytes: Buffer.from('GIF89a') },
      { name: 'mark.png', type: 'image/png', bytes: badge },
    )
    expect(await photosOfMail(mail)).toMatchObject({ photos: [], leftOut: 4 })
  })
  test('a photo no wider than a mark but higher is a photo', async () => {
    const tall = await blank(120, 200).jpeg().toBuffer()
    expect(await photosIn(jpegNamed('tall.jpg', tall))).toEqual(['tall.jpg'])
  })
})

describe('its date', () => {
  test('is an instant, by the offset that it gives (RFC 5322, section 3.3)', async () => {
    expect((await photosOfMail(mailWith())).date).toBe(Date.parse('2026-11-24T11:00:05Z'))
  })
  test.each(['', 'Date: soon\r\n'])('%j is none', async (line) => {
    const mail = Buffer.from(`From: a@b.example\r\n${line}Subject: x\r\n\r\nhello\r\n`)
    expect((await photosOfMail(mail)).date).toBeNull()
  })
})

test.each([
  Buffer.alloc(0),
  Buffer.from('\0\xff\r\n\r\n'),
  mailWith(jpegNamed('a.jpg', PHOTO)).subarray(0, 300),
])('a mail that is broken or cut short is an answer, not an error (%#)', async (bytes) => {
  expect((await photosOfMail(bytes)).photos.length).toBeLessThanOrEqual(1)
})
