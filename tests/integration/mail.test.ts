/** Photos by mail, from a real mail server over IMAP, into a whole service. */
import { setTimeout as wait } from 'node:timers/promises'
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest'
import {
  type Mailbox,
  type MailboxTry,
  mailboxAnswer,
  mailboxesAnswer,
  mailboxTryAnswer,
} from '../../services/http/mail-shapes.ts'
import { type Still, stillPage, waterRunAnswer } from '../../services/http/shapes.ts'
import { startMail } from '../../services/mail/run-mail.ts'
import { IMAP_PASSWORD, IMAP_USER, type ImapServer, noImapServer, startImapServer } from './imap-server.ts'
import { jpegNamed, type MadeMail, makeMail } from './mails.ts'
import { photoTakenAt, plainPhoto } from './photos.ts'
import { problemOf, type SetUpCamera, strictly, type TestService } from './service.ts'
import { addPointWithCamera, openStation } from './station.ts'

const LONGEST_WAIT_MS = 30_000
const why = noImapServer === null ? '' : ` (skipped: ${noImapServer})`
const DATE = 'Tue, 24 Nov 2026 21:30:05 +1030'

describe.skipIf(noImapServer !== null)(`photos by mail${why}`, () => {
  let service: TestService
  let server: ImapServer
  let kite: SetUpCamera
  let galah: SetUpCamera

  beforeAll(async () => {
    server = await startImapServer()
    service = await openStation()
    kite = await addPointWithCamera(service, { name: 'Kite Bore' })
    galah = await addPointWithCamera(service, { name: 'Galah Well' })
  })
  afterAll(async () => {
    await service?.stop()
    await server?.remove()
  })
  afterEach(async () => {
    for (const { id } of await mailboxes()) await service.ask(`/api/mailboxes/${id}`, { method: 'DELETE' })
    await server.as(async (client) => {
      for (const { path, flags } of await client.list()) {
        if (flags.has('\\Noselect')) continue
        await client.mailboxOpen(path)
        await client.messageDelete('1:*', { uid: true })
        await client.mailboxClose()
        if (path !== 'INBOX') await client.mailboxDelete(path)
      }
    })
  })

  const mailboxes = async () => strictly(mailboxesAnswer, await service.ask('/api/mailboxes')).mailboxes
  const settings = (change: object = {}) => ({
    name: 'Photos',
    host: '127.0.0.1',
    port: server.plainPort,
    security: 'none',
    userName: IMAP_USER,
    password: IMAP_PASSWORD,
    rules: [
      { cameraId: kite.id, kind: 'tag', words: 'kite' },
      { cameraId: galah.id, kind: 'sender', words: 'galah@mobile.example' },
    ],
    ...change,
  })
  const addMailbox = async (change: object = {}): Promise<Mailbox> => {
    const answer = await service.send('POST', '/api/mailboxes', settings(change))
    expect(answer.status, answer.bytes.toString()).toBe(201)
    return strictly(mailboxAnswer, answer).mailbox
  }
  const mail = (change: Partial<MadeMail> = {}): string =>
    makeMail({
      from: 'sender@mobile.example',
      to: 'station+kite@post.example',
      subject: 'A photo',
      date: DATE,
      attachments: [],
      ...change,
    })
  /** Photos of a kind of the test's own: no two tests send the same. */
  let made = 0
  const photo = async (takenAt?: string) => {
    made += 1
    const second = String(made % 60).padStart(2, '0')
    const minute = String(Math.floor(made / 60)).padStart(2, '0')
    return await photoTakenAt('galah-well-08.jpg', takenAt ?? `2026-11-24T20:${minute}:${second}+10:30`)
  }
  const stillsOf = async (camera: SetUpCamera): Promise<Still[]> =>
    strictly(stillPage, await service.ask(`/api/stills?limit=200&camera=${camera.id}`)).stills
  const theMailbox = async () => (await mailboxes())[0]!
  const until = async (isSo: (mailbox: Mailbox) => boolean): Promise<Mailbox> => {
    const giveUpAt = Date.now() + LONGEST_WAIT_MS
    for (;;) {
      const now = await theMailbox()
      if (isSo(now)) return now
      if (Date.now() > giveUpAt) throw new Error(`waited in vain: ${JSON.stringify(now)}`)
      await wait(30)
    }
  }
  const flagsIn = (folder: string) =>
    server.as(async (client) => {
      await client.mailboxOpen(folder, { readOnly: true })
      const all =
        client.mailbox === false || client.mailbox.exists === 0
          ? []
          : await client.fetchAll('1:*', { flags: true })
      return all.map(({ flags }) => [...(flags ?? [])].filter((flag) => flag !== '\\Recent').sort())
    })

  describe('what is in a mailbox', () => {
    test('becomes photos of the camera it was sent for, and is flagged', async () => {
      const before = (await stillsOf(kite)).length
      await server.put([
        mail({ attachments: [jpegNamed('a.jpg', await photo()), jpegNamed('b.jpg', await photo())] }),
        mail({
          from: 'Galah <Galah@mobile.example>',
          to: 'x@y.example',
          attachments: [jpegNamed('c.jpg', await photo())],
        }),
      ])
      const galahs = (await stillsOf(galah)).length
      await addMailbox()
      expect(await until(({ mails }) => mails === 2)).toMatchObject({
        photos: 3,
        lastReason: null,
        left: { count: 0 },
      })
      expect(await stillsOf(kite)).toHaveLength(before + 2)
      expect(await stillsOf(galah)).toHaveLength(galahs + 1)
      expect(await flagsIn('INBOX')).toEqual([
        ['\\Flagged', '\\Seen'],
        ['\\Flagged', '\\Seen'],
      ])
    })
    test('a mail that comes later is taken without being asked for', async () => {
      await addMailbox({ pollMinutes: 1440 })
      await until(({ lastOkAt }) => lastOkAt !== null)
      await server.put([mail({ attachments: [jpegNamed('later.jpg', await photo())] })])
      expect(await until(({ mails }) => mails === 1)).toMatchObject({ photos: 1 })
    })
    test('a photo’s own date counts first, a date in its name next, then the mail’s', async () => {
      const plain = await plainPhoto('galah-well-01.jpg')
      const named = await plainPhoto('galah-well-02.jpg')
      await server.put([
        mail({ attachments: [jpegNamed('exif.jpg', await photo('2026-11-23T08:00:00+10:30'))] }),
        mail({ attachments: [jpegNamed('IMG_20261123_090000.jpg', named)] }),
        mail({ attachments: [jpegNamed('photo.jpg', plain)] }),
      ])
      await addMailbox()
      await until(({ mails }) => mails === 3)
      const told = (await stillsOf(kite)).map(({ takenAt, takenFrom }) => [takenFrom, takenAt])
      expect(told).toContainEqual(['exif with offset', '2026-11-23T08:00:00+10:30'])
      expect(told).toContainEqual(['file name', '2026-11-23T09:00:00+10:30'])
      expect(told).toContainEqual(['mail date', '2026-11-24T21:30:05+10:30'])
    })
    test('a broken photo is kept and marked, and the mail is done', async () => {
      await server.put([mail({ attachments: [jpegNamed('cut.jpg', Buffer.from(`no photo ${Date.now()}`))] })])
      await addMailbox()
      await until(({ mails }) => mails === 1)
      const broken = (await stillsOf(kite)).filter(({ state }) => state === 'unreadable')
      expect(broken).toHaveLength(1)
    })
  })

  describe('what becomes of a mail whose photos are safe', () => {
    test('it is filed into a folder, which is made if it is not there', async () => {
      await server.put([mail({ attachments: [jpegNamed('a.jpg', await photo())] })])
      await addMailbox({ afterTaking: 'file', fileTo: 'Taken/Photos' })
      await until(({ mails }) => mails === 1)
      expect(await flagsIn('INBOX')).toEqual([])
      expect(await flagsIn('Taken/Photos')).toEqual([[]])
    })
    test('it is deleted, where the owner wants that', async () => {
      await server.put([
        mail({ attachments: [jpegNamed('a.jpg', await photo())] }),
        mail({ subject: 'no photo' }),
      ])
      await addMailbox({ afterTaking: 'delete' })
      await until(({ mails, left }) => mails === 1 && left.count === 1)
      // The one without a photo stays.
      expect(await flagsIn('INBOX')).toEqual([[]])
    })
  })

  describe('mails whose photos are not taken', () => {
    test('stay as they came, and are shown with sender, subject and reason', async () => {
      await server.put([
        mail({
          from: 'offers@shop.example',
          to: 'station@post.example',
          subject: 'Fence posts — cheap',
          attachments: [jpegNamed('a.jpg', await photo())],
        }),
        mail({ subject: 'Daily report' }),
        mail({
          subject: 'Clip',
          attachments: [{ name: 'a.mp4', type: 'video/mp4', bytes: Buffer.from('x') }],
        }),
      ])
      await addMailbox()
      const { left, photos } = await until((now) => now.left.count === 3)
      expect(photos).toBe(0)
      expect(left.latest.map(({ sender, subject, reason }) => [sender, subject, reason])).toEqual([
        ['sender@mobile.example', 'Clip', 'no photo in it, but 1 other attachment'],
        ['sender@mobile.example', 'Daily report', 'no photo in it'],
        ['offers@shop.example', 'Fence posts — cheap', 'fits no camera'],
      ])
      expect(await flagsIn('INBOX')).toEqual([[], [], []])
    })
    test('one that fitted no camera is taken once a rule fits it', async () => {
      const bytes = await photo()
      await server.put([mail({ to: 'station+north@post.example', attachments: [jpegNamed('a.jpg', bytes)] })])
      const { id, rules } = await addMailbox()
      await until(({ left }) => left.count === 1)
      const given = rules.map(({ cameraId, kind, words }) => ({ cameraId, kind, words }))
      await service.send('PATCH', `/api/mailboxes/${id}`, {
        rules: [...given, { cameraId: galah.id, kind: 'tag', words: 'north' }],
      })
      expect(await until(({ mails }) => mails === 1)).toMatchObject({ photos: 1, left: { count: 0 } })
      expect(await flagsIn('INBOX')).toEqual([['\\Flagged', '\\Seen']])
    })
    test('one that a person deletes is forgotten', async () => {
      const [uid] = await server.put([mail({ subject: 'Daily report' })])
      const { id } = await addMailbox()
      await until(({ left }) => left.count === 1)
      await server.as(async (client) => {
        await client.mailboxOpen('INBOX')
        await client.messageDelete(String(uid), { uid: true })
      })
      await service.send('PATCH', `/api/mailboxes/${id}`, { rules: [] })
      await until(({ left }) => left.count === 0)
    })
    test('a mail to two cameras is nobody’s', async () => {
      const bytes = await photo()
      await server.put([
        mail({ to: 'a+kite@b.example, a+galah@b.example', attachments: [jpegNamed('a.jpg', bytes)] }),
      ])
      await addMailbox({
        rules: [
          { cameraId: kite.id, kind: 'tag', words: 'kite' },
          { cameraId: galah.id, kind: 'tag', words: 'galah' },
        ],
      })
      const { left } = await until((now) => now.left.count === 1)
      expect(left.latest[0]!.reason).toBe('fits more than one camera')
    })
  })

  describe('nothing is lost, and nothing comes twice', () => {
    test('read anew from its first mail, everything is known', async () => {
      const before = (await stillsOf(kite)).length
      await server.put([mail({ attachments: [jpegNamed('a.jpg', await photo())] })])
      const { id } = await addMailbox()
      await until(({ mails }) => mails === 1)
      // As after a folder was made anew on its server: its mails have other numbers.
      await service.house.ledger
        .updateTable('mailboxes')
        .set({ uid_validity: 1 })
        .where('id', '=', id)
        .execute()
      await service.send('PATCH', `/api/mailboxes/${id}`, { rules: settings().rules })
      expect(await until(({ mails }) => mails === 2)).toMatchObject({ photos: 1 })
      expect(await stillsOf(kite)).toHaveLength(before + 1)
    })
    test('stopped in the middle, another takes up where it was', async () => {
      const count = 12
      const photos = await Promise.all(Array.from({ length: count }, () => photo()))
      const before = (await stillsOf(kite)).length
      await server.put(photos.map((bytes, i) => mail({ attachments: [jpegNamed(`${i}.jpg`, bytes)] })))
      await addMailbox({ isOn: false })
      const { ledger, sources } = service.house
      await ledger.updateTable('mailboxes').set({ is_on: true }).execute()
      let taken = 0
      const stopped = startMail({
        ...sources.place,
        metrics: {
          taken: () => {
            taken += 1
          },
        },
      })
      await vi.waitUntil(() => taken >= 4, { timeout: LONGEST_WAIT_MS })
      await stopped.stop()
      const { mails } = await theMailbox()
      expect(mails).toBeLessThan(count)
      const again = startMail(sources.place)
      await until((now) => now.mails === count)
      await again.stop()
      expect(await stillsOf(kite)).toHaveLength(before + count)
    })
    test('a camera whose mailbox can’t be read is news on the Water run, once it has lasted', async () => {
      const { id } = await addMailbox({ password: 'wrong' })
      await until(({ lastReason }) => lastReason !== null)
      const told = async () => {
        const { rows } = strictly(waterRunAnswer, await service.ask('/api/water-run'))
        return rows.flatMap(({ notFetched }) => notFetched.map(({ cameraName }) => cameraName)).sort()
      }
      expect(await told()).toEqual(['Galah camera', 'Kite camera'])
      const { ledger } = service.house
      const lastTry = ledger.selectFrom('mailboxes').select('last_try_at').where('id', '=', id)
      await ledger.updateTable('mailboxes').set({ last_ok_at: lastTry }).where('id', '=', id).execute()
      expect(await told()).toEqual([])
    })
    test('a server that goes away and comes back is read on', async () => {
      const { ledger, sources } = service.house
      await addMailbox({ isOn: false })
      await ledger.updateTable('mailboxes').set({ is_on: true }).execute()
      const watched = startMail(sources.place, { pausesMs: [100] })
      try {
        await until(({ lastOkAt }) => lastOkAt !== null)
        await server.stop()
        expect((await until(({ lastReason }) => lastReason !== null)).lastReason).toContain('127.0.0.1')
        await server.start()
        await server.put([mail({ attachments: [jpegNamed('back.jpg', await photo())] })])
        await until(({ mails, lastReason }) => mails === 1 && lastReason === null)
      } finally {
        await watched.stop()
      }
    })
    test('photos over what a camera may send in a minute come later', async () => {
      const limits = (stillsAMinute: number | null) =>
        service.send('PUT', '/api/intake-limits', {
          stillMegabytes: 30,
          megapixels: 100,
          stillsAMinute,
          stillsADay: null,
        })
      await limits(1)
      try {
        await server.put([
          mail({ attachments: [jpegNamed('a.jpg', await photo()), jpegNamed('b.jpg', await photo())] }),
          mail({
            from: 'galah@mobile.example',
            to: 'x@y.example',
            attachments: [jpegNamed('c.jpg', await photo())],
          }),
        ])
        const { id } = await addMailbox()
        const { left } = await until(({ mails, left: now }) => mails === 1 && now.count === 1)
        expect(left.latest[0]).toMatchObject({ again: 'soon' })
        service.passHours(1)
        await service.send('PATCH', `/api/mailboxes/${id}`, { rules: settings().rules })
        expect(await until(({ mails }) => mails === 2)).toMatchObject({ photos: 3, left: { count: 0 } })
      } finally {
        await limits(600)
        service.passHours(1)
      }
    })
  })

  describe('try it now', () => {
    const tryOf = async (id: number): Promise<MailboxTry> =>
      strictly(mailboxTryAnswer, await service.ask(`/api/mailboxes/${id}/try`, { method: 'POST' }))
    test('shows the photo it got, and whose the last mails are; nothing changes in the mailbox', async () => {
      await server.put([
        mail({ subject: 'Older', attachments: [jpegNamed('a.jpg', await photo())] }),
        mail({ subject: 'Latest that fits', attachments: [jpegNamed('b.jpg', await photo())] }),
        mail({ subject: 'For nobody', to: 'x@y.example' }),
      ])
      const { id } = await addMailbox({ isOn: false })
      const tried = await tryOf(id)
      expect(tried).toMatchObject({ fault: null, mails: 3 })
      expect(
        tried.latest.map(({ subject, cameraName, reason, stills }) => [
          subject,
          cameraName,
          reason,
          stills.length,
        ]),
      ).toEqual([
        ['For nobody', null, 'fits no camera', 0],
        ['Latest that fits', 'Kite camera', null, 1],
        ['Older', 'Kite camera', null, 0],
      ])
      const shown = await service.ask(tried.latest[1]!.stills[0]!.smallUrl)
      expect(shown.headers.get('content-type')).toMatch(/^image\//)
      expect(await flagsIn('INBOX')).toEqual([[], [], []])
    })
    const failing = (reason: RegExp, change: () => object) => async () => {
      const { id } = await addMailbox({ isOn: false, ...change() })
      const { fault } = await tryOf(id)
      expect(fault?.reason).toMatch(reason)
      expect(JSON.stringify(fault)).not.toContain(IMAP_PASSWORD)
    }
    test(
      'a wrong password',
      failing(/did not let us in/, () => ({ password: 'wrong' })),
    )
    test(
      'a folder that is not there',
      failing(/no folder "Cameras"/, () => ({ folder: 'Cameras' })),
    )
    test(
      'nothing at the port',
      failing(/nothing answers at that port/, () => ({ port: 1 })),
    )
    test(
      'no TLS at the port',
      failing(/does not speak TLS/, () => ({ security: 'tls', port: server.plainPort })),
    )
    test(
      'a certificate that nobody vouches for, with its SHA-256 to compare',
      failing(/certificate is one it made itself. Its SHA-256 is [0-9a-f]{64}/, () => ({
        host: 'localhost',
        security: 'tls',
        port: server.tlsPort,
      })),
    )
    test(
      'another certificate than the one that is trusted',
      failing(/another certificate than the one you trust/, () => ({
        security: 'tls',
        port: server.tlsPort,
        certificateSha256: 'ab'.repeat(32),
      })),
    )
    test('the one certificate that is trusted is enough, by whatever name the server is asked', async () => {
      const { id } = await addMailbox({
        isOn: false,
        security: 'tls',
        port: server.tlsPort,
        certificateSha256: server.certificateSha256.toUpperCase().replaceAll(/(..)(?!$)/g, '$1:'),
      })
      expect((await tryOf(id)).fault).toBeNull()
    })
    test(
      'TLS begun on the plain port verifies the certificate too',
      failing(/certificate is one it made itself/, () => ({ host: 'localhost', security: 'starttls' })),
    )
  })

  describe('what a mailbox must not be', () => {
    const refused = async (field: string, change: object) => {
      const problem = problemOf(await service.send('POST', '/api/mailboxes', settings(change)), 400)
      expect(problem.field).toBe(field)
    }
    test('plain to another machine, unless its owner insists', async () => {
      await refused('plainByOwner', { host: 'imap.post.example' })
      await addMailbox({ host: 'imap.post.example', plainByOwner: true, isOn: false })
    })
    test('one certificate without TLS from the start', () =>
      refused('certificateSha256', { security: 'starttls', certificateSha256: 'ab'.repeat(32) }))
    test('filing into nowhere, or into where mails are read', async () => {
      await refused('fileTo', { afterTaking: 'file' })
      await refused('fileTo', { afterTaking: 'file', fileTo: 'INBOX' })
    })
    test('the same words for two cameras', () =>
      refused('rules.1.words', {
        rules: [
          { cameraId: kite.id, kind: 'tag', words: 'kite' },
          { cameraId: galah.id, kind: 'tag', words: 'Kite' },
        ],
      }))
    test.each(['imap post', 'http://imap.example', 'a\nb', '-x.example'])('a server called %j', (host) =>
      refused('host', { host }),
    )
    test('a password goes to no other server than it was given for', async () => {
      const { id } = await addMailbox({ isOn: false })
      const elsewhere = { host: 'localhost' }
      const problem = problemOf(await service.send('PATCH', `/api/mailboxes/${id}`, elsewhere), 400)
      expect(problem.field).toBe('password')
      const again = await service.send('PATCH', `/api/mailboxes/${id}`, { ...elsewhere, password: 'x' })
      expect(again.status).toBe(200)
    })
    test('its password is never answered, nor logged', async () => {
      await addMailbox({ password: 'never to be seen' })
      await until(({ lastReason }) => lastReason !== null)
      expect((await service.ask('/api/mailboxes')).bytes.toString()).not.toContain('never to be seen')
      expect(service.log.join('\n')).not.toContain('never to be seen')
    })
  })
})
