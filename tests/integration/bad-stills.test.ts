/** Bad photos at the door: each gets a clear answer or is kept with its reason, and none stops the eye. */
import { createHash, randomBytes } from 'node:crypto'
import sharp from 'sharp'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { z } from 'zod'
import { withExif } from '../../services/demo/exif-segment.ts'
import { stillAnswer, stillPage, visitPage } from '../../services/http/shapes.ts'
import { photoTakenAt, plainPhoto } from './photos.ts'
import { blackPng, pngThatClaims } from './png-files.ts'
import { type Answer, MORNING, problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addCamera, camerasNow, openStationWithCamera } from './station.ts'

/** Two cattle by day (services/demo/stills/truth.json). */
const CATTLE = 'galah-well-04.jpg'

let service: TestService
let camera: SetUpCamera

beforeAll(async () => {
  ;({ service, camera } = await openStationWithCamera())
})
afterAll(() => service?.stop())

const received = z.object({
  stills: z.array(
    z.object({
      id: z.int(),
      state: z.enum(['received', 'done', 'unreadable']),
      reason: z.string().nullable(),
      takenAt: z.iso.datetime({ offset: true }),
      takenFrom: z.string(),
      clockDoubt: z.string().nullable(),
      known: z.boolean(),
    }),
  ),
})

function receivedOf(answer: Answer) {
  return strictly(received, answer).stills[0]!
}

async function send(bytes: Buffer, headers: Record<string, string> = {}) {
  const answer = await service.post('/api/stills', camera, bytes, headers)
  expect(answer.status).toBe(201)
  return receivedOf(answer)
}

/** Sends and waits for the eye's word. */
async function sendAndRead(bytes: Buffer, headers: Record<string, string> = {}) {
  const { id } = await send(bytes, headers)
  await service.waitUntilRead()
  return strictly(stillAnswer, await service.ask(`/api/stills/${id}`)).still
}

const cameraNow = async () => (await camerasNow(service)).find(({ id }) => id === camera.id)!

/** The bytes of a photo that cannot be read stay, it is listed and counted, and it says why. */
async function expectKeptUnreadable(bytes: Buffer, reason: RegExp, headers: Record<string, string> = {}) {
  const before = await cameraNow()
  const still = await sendAndRead(bytes, headers)
  expect(still.state).toBe('unreadable')
  expect(still.reason).toMatch(reason)
  const page = strictly(stillPage, await service.ask('/api/stills?state=unreadable&limit=200'))
  expect(page.stills.map(({ id }) => id)).toContain(still.id)
  const after = await cameraNow()
  expect([after.photos, after.unreadable]).toEqual([before.photos + 1, before.unreadable + 1])
  const full = await service.ask(still.fullUrl)
  expect(full.status).toBe(200)
  expect(full.bytes.equals(bytes)).toBe(true)
  expect(problemOf(await service.ask(still.smallUrl), 404).remedy).toContain('/full')
}

let minute = 0
/** A good photo after the bad one is read as ever. */
async function expectEyeStillReads() {
  minute += 1
  const takenAt = `2026-11-24T19:${String(minute).padStart(2, '0')}:00+10:30`
  expect(await sendAndRead(await photoTakenAt(CATTLE, takenAt))).toMatchObject({ state: 'done', takenAt })
}

describe('bytes that are no photo are kept, with the reason', () => {
  test('a message in place of a photo', async () => {
    await expectKeptUnreadable(Buffer.from('ERROR 28: timed out while sending\r\n'), /not a photo/)
    await expectEyeStillReads()
  })
  test('a message that calls itself JSON is kept byte for byte too', async () => {
    const bytes = Buffer.from('{"error": 28, "at": 1}')
    await expectKeptUnreadable(bytes, /not a photo/, { 'Content-Type': 'application/json' })
  })
  test('a photo cut short by a dropped line', async () => {
    const whole = await photoTakenAt(CATTLE, '2026-11-24T18:00:00+10:30')
    await expectKeptUnreadable(whole.subarray(0, Math.round(whole.length * 0.6)), /./)
    await expectEyeStillReads()
  })
  test('nothing but a header', async () => {
    const whole = await photoTakenAt(CATTLE, '2026-11-24T18:01:00+10:30')
    await expectKeptUnreadable(whole.subarray(0, 40), /header cannot be read/)
  })
  test('an empty body', async () => {
    await expectKeptUnreadable(Buffer.alloc(0), /empty/)
  })
  test('noise behind the first bytes of a JPEG', async () => {
    const noise = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), randomBytes(5000)])
    await expectKeptUnreadable(noise, /./)
    await expectEyeStillReads()
  })
  test('20,000 x 20,000 pixels are refused by their header, undecoded', async () => {
    await expectKeptUnreadable(pngThatClaims(20_000, 20_000), /20000 x 20000 pixels, over the limit of 100/)
    await expectEyeStillReads()
  })
  test('a small file that really unpacks to 20,000 x 20,000 pixels', async () => {
    const flat = blackPng(20_000, 20_000)
    expect(flat.length).toBeLessThan(1_000_000)
    await expectKeptUnreadable(flat, /20000 x 20000 pixels/)
    await expectEyeStillReads()
  })
  test('a picture of a kind that no camera here sends', async () => {
    const tiff = await sharp(await plainPhoto(CATTLE))
      .tiff()
      .toBuffer()
    await expectKeptUnreadable(tiff, /a TIFF, not a JPEG, PNG or WebP/)
  })
})

describe('odd pictures are read', () => {
  test('a PNG named .jpg is known by its bytes', async () => {
    const png = await sharp(await plainPhoto(CATTLE))
      .png()
      .toBuffer()
    const still = await sendAndRead(png, { 'X-File-Name': 'IMG_0001.jpg', 'Content-Type': 'image/jpeg' })
    expect(still).toMatchObject({ state: 'done', width: 960, height: 540 })
    expect((await service.ask(still.fullUrl)).headers.get('content-type')).toBe('image/png')
  })
  test('CMYK', async () => {
    const cmyk = await sharp(await plainPhoto(CATTLE))
      .toColourspace('cmyk')
      .jpeg()
      .toBuffer()
    expect((await sharp(cmyk).metadata()).channels).toBe(4)
    expect(await sendAndRead(cmyk)).toMatchObject({ state: 'done', tally: { cattle: 1 } })
  })
  test('16 bit', async () => {
    const deep = await sharp(await plainPhoto(CATTLE))
      .toColourspace('rgb16')
      .png()
      .toBuffer()
    expect((await sharp(deep).metadata()).depth).toBe('ushort')
    expect(await sendAndRead(deep)).toMatchObject({ state: 'done', tally: { cattle: 1 } })
  })
  test('an animated WebP is read by its first frame', async () => {
    const first = await sharp(await plainPhoto(CATTLE))
      .png()
      .toBuffer()
    const second = await sharp(first).negate().png().toBuffer()
    const moving = await sharp([first, second], { join: { animated: true } })
      .webp()
      .toBuffer()
    expect((await sharp(moving, { animated: true }).metadata()).pages).toBe(2)
    expect(await sendAndRead(moving)).toMatchObject({ state: 'done', width: 960, height: 540 })
  })
  test('grey with an alpha channel', async () => {
    const grey = await sharp(await plainPhoto(CATTLE))
      .greyscale()
      .ensureAlpha(0.5)
      .png()
      .toBuffer()
    expect(await sendAndRead(grey)).toMatchObject({ state: 'done' })
  })
  test('one pixel', async () => {
    const dot = await sharp({ create: { width: 1, height: 1, channels: 3, background: '#964' } })
      .png()
      .toBuffer()
    expect(await sendAndRead(dot)).toMatchObject({ state: 'done', tally: {} })
  })
})

describe('times that cannot be right are kept in doubt and in no visit', () => {
  const visitsOf = async (night: string) =>
    strictly(visitPage, await service.ask(`/api/visits?from=${night}&to=${night}`)).visits
  async function expectInNoVisit(stillId: number, night: string) {
    expect(await visitsOf(night)).toEqual([])
    const doubtful = strictly(stillPage, await service.ask('/api/stills?doubtful=yes&limit=200'))
    expect(doubtful.stills.map(({ id }) => id)).toContain(stillId)
  }
  test('EXIF of the year 2090', async () => {
    const still = await sendAndRead(await photoTakenAt(CATTLE, '2090-01-02T21:00:00+10:30'))
    expect(still).toMatchObject({
      state: 'done',
      tally: { cattle: 1 },
      takenFrom: 'exif with offset',
      takenAt: '2090-01-02T21:00:00+10:30',
      clockDoubt: 'the clock is in the future',
    })
    await expectInNoVisit(still.id, '2090-01-02')
  })
  test('EXIF that its camera’s clock error carries past the year 9998: the time it came in stands for it', async () => {
    const fast = await addCamera(service, {
      name: 'Wren fast camera',
      pointId: camera.pointId,
      clockErrorSeconds: 400 * 86_400,
    })
    const before = await visitsOf('2026-11-24')
    const bytes = await photoTakenAt(CATTLE, '9998-12-31T21:00:00+10:30')
    const { id } = receivedOf(await service.post('/api/stills', fast, bytes))
    await service.waitUntilRead()
    expect(strictly(stillAnswer, await service.ask(`/api/stills/${id}`)).still).toMatchObject({
      state: 'done',
      takenFrom: 'arrival',
      takenAt: MORNING,
      clockDoubt: 'the clock is in the future',
    })
    expect(await visitsOf('2026-11-24')).toEqual(before)
  })
  test('a factory date after a flat battery', async () => {
    const still = await sendAndRead(await photoTakenAt(CATTLE, '2015-01-01T00:03:00+10:30'))
    expect(still).toMatchObject({ state: 'done', clockDoubt: expect.stringContaining('factory date') })
    await expectInNoVisit(still.id, '2014-12-31')
  })
  test('a clock that ran on from a factory date', async () => {
    const still = await sendAndRead(await photoTakenAt(CATTLE, '1970-01-03T00:03:00+10:30'))
    expect(still).toMatchObject({ state: 'done', clockDoubt: expect.stringContaining('before there were') })
    await expectInNoVisit(still.id, '1970-01-02')
  })
  test('a time in the far future given by the sender', async () => {
    const still = await sendAndRead(await plainPhoto('galah-well-02.jpg'), {
      'X-Taken-At': '2150-06-01T12:00:00Z',
    })
    expect(still).toMatchObject({
      state: 'done',
      takenFrom: 'sender',
      clockDoubt: 'the clock is in the future',
    })
    await expectInNoVisit(still.id, still.night)
  })
  test('a sender’s time that is no time is refused, and nothing is kept', async () => {
    const bytes = await plainPhoto('galah-well-03.jpg')
    const before = (await cameraNow()).photos
    for (const said of ['yesterday', '2026-11-24T21:00:00', '2026-02-30T00:00:00Z', '']) {
      const answer = await service.post('/api/stills', camera, bytes, { 'X-Taken-At': said })
      expect(problemOf(answer, 400)).toMatchObject({ field: 'takenAt' })
    }
    expect((await cameraNow()).photos).toBe(before)
  })
  test('a doubtful clock does not count as the camera’s last contact', async () => {
    await send(await photoTakenAt(CATTLE, '2091-01-02T21:00:00+10:30'))
    const { lastContactAt } = await cameraNow()
    expect(lastContactAt! < '2026-11-26').toBe(true)
  })
})

describe('broken EXIF does not keep a photo out', () => {
  test.each([
    ['that is not a date', '2026:99:99 25:61:61', null],
    ['of zeros', '0000:00:00 00:00:00', null],
    ['with an offset that is none', '2026:11:24 17:00:00', '+99:99'],
    ['of text', 'a good while ago!!!', null],
  ])('a date %s', async (_what, dateTimeOriginal, offsetTimeOriginal) => {
    const imageUniqueId = createHash('sha256').update(dateTimeOriginal).digest('hex').slice(0, 32)
    const bytes = withExif(await plainPhoto(CATTLE), { dateTimeOriginal, offsetTimeOriginal, imageUniqueId })
    expect(await sendAndRead(bytes)).toMatchObject({ state: 'done', tally: { cattle: 1 } })
  })
  test('a segment of noise: the time is that of arrival', async () => {
    const whole = await photoTakenAt(CATTLE, '2026-11-24T17:05:00+10:30')
    const broken = Buffer.from(whole)
    // The marker and its length stay; the TIFF structure inside (from byte 12) is noise.
    broken.fill(0xa5, 12, 60)
    expect(await sendAndRead(broken)).toMatchObject({
      state: 'done',
      takenFrom: 'arrival',
      takenAt: '2026-11-25T06:10:00+10:30',
    })
  })
  test('a segment that points outside of itself', async () => {
    const whole = Buffer.from(await photoTakenAt(CATTLE, '2026-11-24T17:06:00+10:30'))
    whole.writeUInt32BE(0x7fffffff, whole.indexOf('MM\0*', 0, 'latin1') + 4)
    expect(await sendAndRead(whole)).toMatchObject({ state: 'done', takenFrom: 'arrival' })
  })
})

describe('the same bytes again', () => {
  test('are the same photo, said so, and counted once', async () => {
    const bytes = await photoTakenAt(CATTLE, '2026-11-24T16:00:00+10:30')
    const first = await send(bytes)
    const before = await cameraNow()
    const again = await service.post('/api/stills', camera, bytes)
    expect(again.status).toBe(200)
    expect(receivedOf(again)).toMatchObject({ id: first.id, known: true })
    expect((await cameraNow()).photos).toBe(before.photos)
  })
  test('sent by many hands at once are still one photo', async () => {
    const bytes = await photoTakenAt(CATTLE, '2026-11-24T16:01:00+10:30')
    const answers = await Promise.all(
      Array.from({ length: 6 }, () => service.post('/api/stills', camera, bytes)),
    )
    expect(new Set(answers.map((answer) => receivedOf(answer).id)).size).toBe(1)
    expect(answers.filter((answer) => !receivedOf(answer).known)).toHaveLength(1)
  })
})

test('nothing above was an unforeseen fault', () => {
  expect(service.log.filter((line) => /^(GET|POST|PUT|PATCH) /.test(line))).toEqual([])
})
