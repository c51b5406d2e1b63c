/** The service is killed while it reads a mailbox: each photo is in once, and each mail is filed once its photos are in. */
import { chmod, mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { z } from 'zod'
import { mailboxAnswer, mailboxesAnswer } from '../../services/http/mail-shapes.ts'
import { cameraWithKey, stillPage } from '../../services/http/shapes.ts'
import {
  IMAP_PASSWORD,
  IMAP_USER,
  type ImapServer,
  noImapServer,
  startImapServer,
} from '../integration/imap-server.ts'
import { jpegNamed, makeMail } from '../integration/mails.ts'
import { photoTakenAt } from '../integration/photos.ts'
import { type ServiceProcess, startServiceProcess, until } from './service-process.ts'

const MAILS = 40
const KILLS_AFTER = [3, 12]
const why = noImapServer === null ? '' : ` (skipped: ${noImapServer})`

describe.skipIf(noImapServer !== null)(`a mailbox under kills${why}`, () => {
  let data: string
  let server: ImapServer
  let service: ServiceProcess | null = null

  beforeAll(async () => {
    data = await mkdtemp(join(tmpdir(), 'hooftally-mail-kill-'))
    await chmod(data, 0o755)
    server = await startImapServer()
  })
  afterAll(async () => {
    await service?.stop()
    await server?.remove()
    await rm(data, { recursive: true, force: true })
  })

  async function call(method: string, path: string, body?: object): Promise<unknown> {
    const response = await fetch(`${service!.address}/api${path}`, {
      method,
      ...(body !== undefined && {
        headers: { 'Content-Type': 'application/json' },
        body: JSON.stringify(body),
      }),
    })
    if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${await response.text()}`)
    return await response.json()
  }
  const mailbox = async () => mailboxesAnswer.parse(await call('GET', '/mailboxes')).mailboxes[0]!
  const stills = async () => stillPage.parse(await call('GET', '/stills?limit=200')).stills
  const mailsIn = (folder: string) =>
    server.as(async (client) => {
      const opened = await client.mailboxOpen(folder, { readOnly: true })
      if (opened.exists === 0) return []
      return (await client.fetchAll('1:*', { envelope: true })).map(({ envelope }) => envelope?.subject ?? '')
    })

  it('killed twice, it has every photo once, and every mail is filed once', async () => {
    const mails: string[] = []
    for (let i = 0; i < MAILS; i += 1) {
      const minute = String(i).padStart(2, '0')
      const bytes = await photoTakenAt('galah-well-04.jpg', `2026-03-03T00:${minute}:00+10:30`)
      const attachments = [jpegNamed(`${minute}.jpg`, bytes)]
      mails.push(
        makeMail({
          from: 'a@mobile.example',
          to: 'x+one@post.example',
          subject: `Photo ${minute}`,
          attachments,
        }),
      )
    }
    service = await startServiceProcess('serve', { data })
    const homestead = { lat: -28, lon: 134 }
    await call('PUT', '/station', { name: 'Test Station', zone: 'Australia/Adelaide', homestead })
    const { point } = z
      .object({ point: z.object({ id: z.number() }) })
      .parse(await call('POST', '/points', { name: 'First Bore', lat: -28.1, lon: 134.1 }))
    const made = cameraWithKey.parse(await call('POST', '/cameras', { name: 'first', pointId: point.id }))
    await server.put(mails)
    mailboxAnswer.parse(
      await call('POST', '/mailboxes', {
        ...{ name: 'Photos', host: '127.0.0.1', port: server.plainPort, security: 'none' },
        ...{ userName: IMAP_USER, password: IMAP_PASSWORD, afterTaking: 'file', fileTo: 'Taken' },
        rules: [{ cameraId: made.camera.id, kind: 'tag', words: 'one' }],
      }),
    )
    let killedEarly = 0
    for (const after of KILLS_AFTER) {
      await until(`${after} photos`, async () => (await stills()).length >= after)
      if ((await stills()).length < MAILS) killedEarly += 1
      await service.kill()
      service = await startServiceProcess('serve', { data })
    }
    // Else it was killed after its work, which would prove little.
    expect(killedEarly).toBeGreaterThan(0)
    await until('all mails dealt with', async () => (await mailsIn('INBOX')).length === 0)
    await until(
      'the last mail written down',
      async () => (await mailbox()).lastReason === null && (await mailbox()).lastOkAt !== null,
    )
    const all = await stills()
    expect(all).toHaveLength(MAILS)
    expect(new Set(all.map(({ takenAt }) => takenAt)).size).toBe(MAILS)
    const filed = await mailsIn('Taken')
    expect(filed.toSorted()).toEqual(
      Array.from({ length: MAILS }, (_, i) => `Photo ${String(i).padStart(2, '0')}`),
    )
    expect((await mailbox()).left.count).toBe(0)
  })
})
