/** Set-up of photos by mail, and counts from a notebook, in a real browser. */
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import {
  IMAP_PASSWORD,
  IMAP_USER,
  type ImapServer,
  noImapServer,
  startImapServer,
} from '../integration/imap-server.ts'
import { jpegNamed, makeMail } from '../integration/mails.ts'
import { photoTakenAt } from '../integration/photos.ts'
import { faultsOf, NO_FAULTS } from './basics.ts'
import { openBrowser, openPage } from './browser.ts'
import { startBuiltService } from './service.ts'

const PHONE = 390
const DESK = 1280
const START_TIMEOUT_MS = 400_000

const opened = await openBrowser()
const why = 'why' in opened ? ` (skipped: ${opened.why})` : ''
const noMail = noImapServer === null ? '' : ` (skipped: ${noImapServer})`

describe.skipIf(why !== '').sequential(`photos by mail, and past counts, on screen${why}`, () => {
  let address = ''
  let stop: () => Promise<void> = async () => undefined
  let page: Page

  beforeAll(async () => {
    if ('why' in opened) return
    const service = await startBuiltService('serve')
    address = service.address
    stop = service.stop
    const tell = async (method: string, path: string, body: object) => {
      const answer = await fetch(`${address}${path}`, {
        method,
        headers: { 'Content-Type': 'application/json' },
        body: JSON.stringify(body),
      })
      expect(answer.status).toBeLessThan(300)
    }
    const homestead = { lat: -28, lon: 135 }
    await tell('PUT', '/api/station', { name: 'Saltbush Flat', zone: 'Australia/Adelaide', homestead })
    await tell('POST', '/api/points', { name: 'Wren Bore', lat: -28.1, lon: 135.1 })
    await tell('POST', '/api/cameras', { name: 'Wren camera', pointId: 1 })
    page = await openPage(opened.browser, { width: DESK })
  }, START_TIMEOUT_MS)
  afterAll(async () => {
    if ('browser' in opened) await opened.browser.close()
    await stop()
  })

  const holdsUp = async () => {
    for (const width of [PHONE, DESK]) {
      await page.setViewportSize({ width, height: 844 })
      expect(await faultsOf(page)).toEqual(NO_FAULTS)
    }
  }

  describe.skipIf(noImapServer !== null)(`a mailbox${noMail}`, () => {
    let server: ImapServer
    const part = () => page.getByRole('region', { name: 'Photos by mail' })

    beforeAll(async () => {
      server = await startImapServer()
      const bytes = await photoTakenAt('galah-well-04.jpg', '2026-03-03T00:15:00+10:30')
      const from = { from: 'a@mobile.example', date: 'Tue, 3 Mar 2026 00:20:00 +1030' }
      await server.put([
        makeMail({
          ...from,
          to: 'x+wren@post.example',
          subject: 'Wren 00:15',
          attachments: [jpegNamed('a.jpg', bytes)],
        }),
        makeMail({ ...from, to: 'x@post.example', subject: 'Fence posts', attachments: [] }),
      ])
    })
    afterAll(() => server.remove())

    test('is set up with whose mails are whose, and refused at its field until it is safe', async () => {
      await page.goto(`${address}/setup#mail`)
      await part().getByRole('button', { name: 'Add a mailbox' }).click()
      await part().getByLabel('Name', { exact: true }).fill('Camera mail')
      await part().getByLabel('Mail server').fill('imap.post.example')
      await part().getByRole('combobox', { name: 'Encryption' }).selectOption({ label: 'None' })
      await part().getByLabel('User name').fill(IMAP_USER)
      await part().getByRole('textbox', { name: 'Password' }).fill(IMAP_PASSWORD)
      await part().getByLabel('What stands after the +').fill('wren')
      await part().getByRole('button', { name: 'Save the mailbox' }).click()
      await part().getByText('anybody on the way to imap.post.example can read').waitFor()
      await holdsUp()
      await part().getByLabel('Mail server').fill('127.0.0.1')
      await part()
        .getByRole('combobox', { name: 'Encryption' })
        .selectOption({ label: 'TLS (usual, port 993)' })
      await part().getByRole('textbox', { name: 'Port' }).fill(String(server.tlsPort))
      await part().getByRole('button', { name: 'Save the mailbox' }).click()
      await part().getByText('Can’t be read').waitFor()
    })
    test('tried, it tells the exact reason, with what is to be compared', async () => {
      await part().getByRole('button', { name: 'Try the mailbox Camera mail now' }).click()
      await part().getByText(`Its SHA-256 is ${server.certificateSha256}`).waitFor()
      await holdsUp()
    })
    test('put right, it shows the photo it got and what was left', async () => {
      await part().getByRole('button', { name: 'Change the mailbox Camera mail' }).click()
      expect(await part().getByRole('textbox', { name: 'Password' }).inputValue()).toBe('')
      await part().getByLabel('The one certificate to trust').fill(server.certificateSha256)
      await part().getByRole('textbox', { name: 'Password' }).fill(IMAP_PASSWORD)
      await part().getByRole('button', { name: 'Save the mailbox' }).click()
      await part().getByRole('button', { name: 'Try the mailbox Camera mail now' }).click()
      await part().getByRole('img', { name: 'Wren camera, Tue 3 Mar, 00:15' }).waitFor()
      await part().getByText('Mails left as they came: 1').waitFor()
      await holdsUp()
    })
    test('the camera’s ways in tell of it', async () => {
      await page.goto(`${address}/setup#cameras`)
      await page.getByRole('button', { name: 'How photos of Wren camera come in' }).click()
      await page.getByText('By mail to Camera mail, known by the address: wren').waitFor()
    })
  })

  describe('a notebook', () => {
    const part = () => page.getByRole('region', { name: 'Past counts' })
    const choose = (text: string) =>
      part()
        .getByLabel('Choose a file')
        .setInputFiles({ name: 'notebook.csv', mimeType: 'text/csv', buffer: Buffer.from(text) })
    const HEAD = 'point,night,species,head,visits,watched'

    test('with a bad row is refused by row and column, and nothing is taken', async () => {
      await page.goto(`${address}/setup#pastCounts`)
      await choose(`${HEAD}\nWren Bore,2020-11-03,camel,4,1,0.5\nWren Bore,2020-11-04,camel,a few,,`)
      await part().getByText('row 2, column head').waitFor()
      await part().getByText('No notebook yet.').waitFor()
    })
    test('is taken in, and once', async () => {
      const good = `${HEAD}\nWren Bore,2020-11-03,camel,4,1,0.5\nWren Bore,2020-11-04,camel,0,0,0.5`
      await part().getByLabel('Who wrote it down').fill('Pat')
      await choose(good)
      await part().getByText('2 counts taken in.').waitFor()
      await part().getByText('2 counts at 1 point, Tue 3 Nov 2020 to Wed 4 Nov 2020, by Pat').waitFor()
      await choose(good)
      await part().getByText('nothing was added').waitFor()
      await holdsUp()
    })
    test('stands on the point’s page as what it is', async () => {
      await page.goto(`${address}/points/1`)
      const shown = page.getByRole('region', { name: 'From a notebook' })
      await shown.getByText('not counted by cameras').waitFor()
      expect(await shown.getByRole('row').count()).toBe(3)
      await holdsUp()
    })
    test('stands beside the grazing pressure, and says that it is another season', async () => {
      await page.goto(`${address}/pressure?week=2026-W10`)
      const shown = page.getByRole('region', { name: 'Beside a notebook' })
      await shown.getByText('Another season').waitFor()
      await shown.getByText('2 on average, 4 at most, 2 nights').waitFor()
      await holdsUp()
    })
    test('is withdrawn whole', async () => {
      await page.goto(`${address}/setup#pastCounts`)
      await part().getByRole('button', { name: 'Withdraw notebook.csv' }).click()
      await part().getByRole('button', { name: 'Yes, withdraw it' }).click()
      await part().getByText('by Pat').last().waitFor()
      await page.goto(`${address}/points/1`)
      await page.getByRole('heading', { name: 'Cameras' }).waitFor()
      expect(await page.getByRole('region', { name: 'From a notebook' }).count()).toBe(0)
    })
  })
})
