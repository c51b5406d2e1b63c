import { describe, expect, test } from 'vitest'
import { cameraOfMail, type MailHead, type MailRule } from '../../../services/mail/camera-of-mail.ts'

const KITE = 1
const GALAH = 2
const mail = (fields: Partial<MailHead>): MailHead => ({
  subject: 'New photo',
  senders: ['gateway@mobile.example'],
  recipients: ['station@post.example'],
  ...fields,
})
const fits = (fields: Partial<MailHead>, ...rules: readonly MailRule[]) => cameraOfMail(mail(fields), rules)

describe('the address it was sent to', () => {
  const rule: MailRule = { cameraId: KITE, kind: 'tag', words: 'Kite' }
  test('what stands after the + is the camera’s tag, in whatever case (RFC 5233, section 4)', () => {
    expect(fits({ recipients: ['station+kite@post.example'] }, rule)).toEqual({
      kind: 'camera',
      cameraId: KITE,
    })
  })
  test.each(['station@post.example', 'station+kite2@post.example', 'kite@post.example'])(
    '%s carries another tag or none',
    (address) => expect(fits({ recipients: [address] }, rule)).toEqual({ kind: 'none' }),
  )
  test('a tag with a + in it is told whole', () => {
    const twice: MailRule = { cameraId: KITE, kind: 'tag', words: 'a+b' }
    expect(fits({ recipients: ['station+a+b@post.example'] }, twice).kind).toBe('camera')
  })
  test('a whole address is a tag too', () => {
    const whole: MailRule = { cameraId: KITE, kind: 'tag', words: 'kite@cameras.example' }
    expect(fits({ recipients: ['x@y.example', 'Kite@Cameras.example'] }, whole).kind).toBe('camera')
  })
})

describe('the subject', () => {
  const one: MailRule = { cameraId: KITE, kind: 'subject', words: 'Camera 1' }
  const twelve: MailRule = { cameraId: GALAH, kind: 'subject', words: 'Camera 12' }
  test('words stand whole: camera 1 is not camera 12', () => {
    expect(fits({ subject: 'Photo of CAMERA 12, 21:30' }, one)).toEqual({ kind: 'none' })
    expect(fits({ subject: 'Photo of camera 1: 21:30' }, one, twelve)).toEqual({
      kind: 'camera',
      cameraId: KITE,
    })
  })
  test('they stand whole further on, where they first stood in another word', () => {
    expect(fits({ subject: 'Camera 12 and Camera 1' }, one).kind).toBe('camera')
  })
  test('of two that fit the longer says more', () => {
    const kite: MailRule = { cameraId: KITE, kind: 'subject', words: 'Bore' }
    const north: MailRule = { cameraId: GALAH, kind: 'subject', words: 'Bore north' }
    expect(fits({ subject: 'Bore north: photo' }, kite, north)).toEqual({
      kind: 'camera',
      cameraId: GALAH,
    })
  })
  test('signs at an end of the words need no gap', () => {
    const bracket: MailRule = { cameraId: KITE, kind: 'subject', words: '[KB]' }
    expect(fits({ subject: 'x[KB]1' }, bracket).kind).toBe('camera')
  })
})

describe('which of them speaks', () => {
  const sender: MailRule = { cameraId: KITE, kind: 'sender', words: 'Gateway@mobile.example' }
  test('the sender, where nothing else does', () => {
    expect(fits({}, sender)).toEqual({ kind: 'camera', cameraId: KITE })
  })
  test('a subject tells cameras of one sender apart', () => {
    const subject: MailRule = { cameraId: GALAH, kind: 'subject', words: 'Galah' }
    expect(fits({ subject: 'Galah 21:30' }, sender, subject)).toEqual({ kind: 'camera', cameraId: GALAH })
  })
  test('an address of its own before both', () => {
    const tag: MailRule = { cameraId: GALAH, kind: 'tag', words: 'galah' }
    const subject: MailRule = { cameraId: KITE, kind: 'subject', words: 'New photo' }
    expect(fits({ recipients: ['a+galah@b.example'] }, sender, subject, tag)).toEqual({
      kind: 'camera',
      cameraId: GALAH,
    })
  })
  test('two cameras by the same words: nobody guesses', () => {
    const other: MailRule = { cameraId: GALAH, kind: 'sender', words: 'gateway@mobile.example' }
    expect(fits({}, sender, other)).toEqual({ kind: 'several', cameraIds: [KITE, GALAH] })
  })
  test('no rule fits a stranger', () => {
    expect(fits({ senders: ['offers@shop.example'] }, sender)).toEqual({ kind: 'none' })
  })
})
